import type { LawChoice, Parameter } from '../model/parameters.ts';
import { AIRLOCK, type Airlock } from './airlock.ts';
import { SHAFTS, type Shafts } from './coast-down.ts';
import { FILTER, type Filter } from './filter.ts';
import { LINE, type Line } from './line.ts';
import { PRODUCT_LIMITS, type ProductLimits } from './moisture.ts';
import { DUST, type DustData } from './safety/dust-data.ts';
import { SURROUNDINGS, type Surroundings } from './surroundings.ts';

/** Everything around the mill, SI. Sizes left out are chosen for the point's own design flow. */
export interface Plant {
  readonly feeder: LawChoice;
  /** Feeds all components but the first; absent: all are fed together. */
  readonly secondFeeder?: LawChoice;
  readonly feedLine: Line;
  readonly productLine: Line;
  readonly surroundings: Surroundings;
  readonly cyclone: LawChoice;
  readonly airlock: Airlock;
  readonly filter: Filter;
  /** Absent: what a fan would have to do. */
  readonly fan?: LawChoice;
  readonly product: ProductLimits;
  readonly dust: DustData;
  readonly shafts: Shafts;
}

/** Blocks of plain numbers under `plant:`. */
export const PLANT_BLOCKS: Readonly<Record<string, readonly Parameter[]>> = {
  feedLine: LINE,
  productLine: LINE,
  surroundings: SURROUNDINGS,
  airlock: AIRLOCK,
  filter: FILTER,
  product: PRODUCT_LIMITS,
  dust: DUST,
  shafts: SHAFTS,
};
