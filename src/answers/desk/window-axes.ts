import { valueAs } from '../../scenario/operating-point.ts';
import { QUANTITIES } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { labelOf, toShown } from '../../scenario/units/display.ts';
import { searchSpace } from '../../search/find/space.ts';
import type { Measure } from '../measure.ts';
import type { PlaneAxis } from '../plane.ts';
import { goalIsFeed } from '../sweep-candidates.ts';
import { tidy } from '../text.ts';
import { pathInWords, quantityMeasure } from '../words.ts';

/** A setting a window can have along an axis; numbers in the unit shown. */
export interface AxisChoice {
  readonly path: string;
  readonly measure: Measure;
  readonly shownIn: string;
  readonly as?: 'shaft' | 'rim';
  readonly from: number;
  readonly to: number;
  /** Where the case stands. */
  readonly at: number;
}

/** What a window of a case can show. */
export interface WindowOffer {
  readonly axes: readonly AxisChoice[];
  /** Axes at first; absent where fewer than two numbers can be varied. */
  readonly first?: readonly [x: string, y: string];
  readonly quantities: readonly { readonly of: string; readonly measure: Measure }[];
  readonly quantity: string;
}

/** Quantities worth a map, where the model has them. */
const MAPPED = ['x50', 'x95', 'motorLoad', 'outletTemperature', 'specificEnergy', 'passes', 'holdup'];

/** Axes within the ranges of `sweep.factors`, else of the machine; feed and rotor first where the goal is the feed rate. */
export function windowOffer(scenario: Scenario): WindowOffer {
  const space = searchSpace(scenario);
  const factors = typeof space === 'string' ? [] : space.factors;
  const axes = factors.flatMap((factor): AxisChoice[] => {
    if (factor.kind !== 'number') return [];
    const { path, shownIn, as, from, to } = factor;
    const at = valueAs(scenario, path, as);
    if (typeof at !== 'number') return [];
    const shown = (value: number) => tidy(toShown(value, shownIn));
    const measure = { name: pathInWords(path), unit: labelOf(shownIn) };
    const ends = { from: shown(from), to: shown(to), at: shown(at) };
    return [{ path, measure, shownIn, ...(as ? { as } : {}), ...ends }];
  });
  const wanted = goalIsFeed(scenario) ? ['feedRate', 'rotorSpeed'] : ['wheelSpeed', 'rotorSpeed'];
  const known = wanted.filter((path) => axes.some((axis) => axis.path === path));
  const [x, y] = [...known, ...axes.map(({ path }) => path).filter((path) => !known.includes(path))];
  return {
    axes,
    ...(x !== undefined && y !== undefined ? { first: [x, y] as const } : {}),
    quantities: MAPPED.filter((name) => QUANTITIES.some((quantity) => quantity.name === name)).map((of) => ({
      of,
      measure: quantityMeasure(of),
    })),
    quantity: 'x95',
  };
}

/** An axis in evenly spaced levels, both ends among them. */
export function axisLevels({ path, shownIn, as, from, to }: AxisChoice, nodes: number): PlaneAxis {
  const levels = Float64Array.from({ length: nodes }, (_, i) => from + ((to - from) * i) / (nodes - 1));
  return { path, shownIn, levels, ...(as ? { as } : {}) };
}

/** A value a panel can take: a four-hundredth of the range, round. */
export function roundedOn({ from, to }: Pick<AxisChoice, 'from' | 'to'>, value: number): number {
  const rough = Math.abs(to - from) / 400;
  const step = 10 ** Math.floor(Math.log10(rough));
  return Number((Math.round(value / step) * step).toPrecision(8));
}
