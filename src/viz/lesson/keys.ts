import type { StepKey } from './step.ts';
import { equalFinenessKey } from './steps/equal-fineness.ts';
import { onceOnlyKey } from './steps/once-through.ts';
import { oneHitKey } from './steps/one-hit.ts';
import { sendBackKey } from './steps/send-back.ts';
import { slipsPastKey } from './steps/slips-past.ts';
import { tooMuchKey } from './steps/too-much.ts';
import { topAndRestKey } from './steps/top-and-rest.ts';
import { whichWheelKey } from './steps/which-wheel.ts';

/** Answers and notes by step. */
export const KEYS: Readonly<Record<string, StepKey>> = {
  'one-hit': oneHitKey,
  'once-through': onceOnlyKey,
  'send-back': sendBackKey,
  'equal-fineness': equalFinenessKey,
  'top-and-rest': topAndRestKey,
  'which-wheel': whichWheelKey,
  'too-much': tooMuchKey,
  'slips-past': slipsPastKey,
};
