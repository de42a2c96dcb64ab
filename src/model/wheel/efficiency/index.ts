import { diffusion } from './diffusion.ts';
import type { EfficiencyLaw } from './efficiency-law.ts';
import { exponential } from './exponential.ts';
import { logNormal } from './log-normal.ts';
import { logistic } from './logistic.ts';
import { rosinRammler } from './rosin-rammler.ts';
import { table } from './table.ts';

/** Every grade-efficiency law, by the name it has in a scenario. */
export const EFFICIENCY_LAWS: Readonly<Record<string, EfficiencyLaw>> = {
  [rosinRammler.name]: rosinRammler,
  [logistic.name]: logistic,
  [diffusion.name]: diffusion,
  [exponential.name]: exponential,
  [logNormal.name]: logNormal,
  [table.name]: table,
};
