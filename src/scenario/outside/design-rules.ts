import { nameRule, textRule } from '../../model/conformance/law-header.ts';
import { brokenRules, firstOf, type Rule, told } from '../../model/conformance/rule.ts';
import { isNamed } from '../design/coordinate.ts';
import type { CompiledDesign, Design, DesignSetup } from '../design/design.ts';
import { InputError } from '../errors.ts';
import type { Factor } from '../scenario.ts';

/** Points asked of a design that leaves the number open, and of its extension. */
const POINTS = 24;
const MORE = 48;
/** Rounding of a coordinate at the end of its range. */
const ROUNDING = 1e-12;

/** Where a design does not hold to what every one must, a sentence each; empty where it conforms. */
export function designFaults(design: Design): string[] {
  const header = brokenRules([
    nameRule(design.name),
    textRule('summary', design.summary),
    {
      must: 'count its points "by factors" or "by points"',
      broken: () =>
        ['by factors', 'by points'].includes(design.counts) ? undefined : `counts is ${design.counts}`,
    },
    {
      must: 'say whether more points leave the earlier ones where they are',
      broken: () => (typeof design.extends === 'boolean' ? undefined : `extends is ${design.extends}`),
    },
  ]);
  return header.length > 0 ? header : brokenRules(rulesOf(design));
}

const range = {
  kind: 'number',
  scale: 'linear',
  integer: false,
  shownIn: 'rpm',
  path: 'rotorSpeed',
} as const;
const MIXED: readonly Factor[] = [
  { ...range, from: 60, to: 120, steps: 3 },
  { kind: 'levels', path: 'wheel', levels: ['one', 'two'], shownIn: '1' },
  { ...range, path: 'feedRate', shownIn: 'kg/h', from: 0.02, to: 0.2, steps: 4, scale: 'log' },
];
const LISTED: readonly Factor[] = [
  { kind: 'levels', path: 'rotorSpeed', levels: [60, 90, 120], shownIn: 'rpm' },
  { kind: 'levels', path: 'wheel', levels: ['one', 'two', 'two'], shownIn: '1' },
];

/** The first factor changes nothing where the second has its first name. */
const activity: DesignSetup['activity'] = (coordinates) =>
  Array.from(coordinates, (_, j) => j > 0 || coordinates[1] !== 0);

function setupOf(factors: readonly Factor[], points?: number): DesignSetup {
  const base = Float64Array.from(factors, (factor, j) =>
    j === 1 ? 1 : factor.kind === 'number' ? factor.from : (factor.levels[0] as number),
  );
  return { factors, seed: 1, base, activity, ...(points === undefined ? {} : { points }) };
}

/** A design on the factors it takes: some want ranges, some lists. */
function compiled(design: Design, more = false): readonly [readonly Factor[], CompiledDesign] {
  const points = design.counts === 'by points' ? (more ? MORE : POINTS) : undefined;
  try {
    return [MIXED, design.compile(setupOf(MIXED, points))];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return [LISTED, design.compile(setupOf(LISTED, points))];
  }
}

function rulesOf(design: Design): Rule[] {
  return [
    {
      must: 'give a whole number of points, at least one',
      broken: () => {
        const [, { size }] = compiled(design);
        return Number.isInteger(size) && size >= 1 && size <= 1e6 ? undefined : `it gives ${size}`;
      },
    },
    {
      must: 'give every factor a value within its range at every point, none where it changes nothing',
      broken: () => {
        const [factors, { size, fill }] = compiled(design);
        return firstOf(Array(size).keys(), (index) => {
          const at = new Float64Array(factors.length).fill(Number.POSITIVE_INFINITY);
          fill(index, at);
          const active = activity(at);
          const wrong = factors.findIndex(
            (factor, j) => !(active[j] ? isOf(factor, at[j]!) : Number.isNaN(at[j])),
          );
          return wrong < 0 ? undefined : `${factors[wrong]!.path} is ${told(at[wrong])} at point ${index}`;
        });
      },
    },
    {
      must: 'give the same point for the same index in any order',
      broken: () => {
        const [factors, forward] = compiled(design);
        const [, backward] = compiled(design);
        const rows = rowsOf(forward, factors.length, [...Array(forward.size).keys()]);
        const back = rowsOf(backward, factors.length, [...Array(backward.size).keys()].reverse()).reverse();
        const differs = rows.findIndex((row, i) => row !== back[i]);
        return differs < 0 ? undefined : `point ${differs} differs`;
      },
    },
    {
      must: 'leave its earlier points where they are when it is extended, as it says it does',
      broken: () => {
        if (!design.extends) return undefined;
        const [factors, few] = compiled(design);
        const [, many] = compiled(design, true);
        const first = [...Array(few.size).keys()];
        const [rows, later] = [rowsOf(few, factors.length, first), rowsOf(many, factors.length, first)];
        const differs = rows.findIndex((row, i) => row !== later[i]);
        return differs < 0 ? undefined : `point ${differs} moves`;
      },
    },
  ];
}

function rowsOf({ fill }: CompiledDesign, factors: number, indices: readonly number[]): string[] {
  const at = new Float64Array(factors);
  return indices.map((index) => {
    fill(index, at);
    return at.join();
  });
}

function isOf(factor: Factor, coordinate: number): boolean {
  if (factor.kind === 'number') {
    const slack = ROUNDING * Math.abs(factor.to);
    return coordinate >= factor.from - slack && coordinate <= factor.to + slack;
  }
  return isNamed(factor)
    ? Number.isInteger(coordinate) && coordinate >= 0 && coordinate < factor.levels.length
    : factor.levels.includes(coordinate);
}
