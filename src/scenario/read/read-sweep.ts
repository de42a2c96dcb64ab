import type { Parameter } from '../../model/parameters.ts';
import { DESIGNS } from '../design/designs.ts';
import type { Factor, Scenario, SweepPlan } from '../scenario.ts';
import { readFactor } from './factor.ts';
import { type Block, childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice, readText } from './reading-context.ts';

/** Design of a sweep that names none. */
const DEFAULT_DESIGN = 'grid';
/** Factors of one sweep. */
export const MOST_FACTORS = 24;
const MOST_POINTS = 50_000_000;

const whole = (name: string, meaning: string, minimum: number, maximum: number): Parameter => ({
  name,
  symbol: name,
  unit: '1',
  shownIn: '1',
  meaning,
  minimum,
  maximum,
  integer: true,
  optional: true,
});
const POINTS = whole('points', 'number of points', 1, MOST_POINTS);
const SEED = whole('seed', 'start of the random numbers', 0, 2 ** 32 - 1);

/** `sweep:` — design and factors. */
export function readSweep(
  context: Context,
  node: Node | undefined,
  scenario: Pick<Scenario, 'machine' | 'settings'>,
): SweepPlan | undefined {
  const block = asBlock(context, node, 'sweep');
  if (!block) return undefined;
  checkKeys(context, block, 'sweep', ['design', 'factors', 'points', 'seed', 'file']);
  const design = readDesign(context, childOf(block, 'design'));
  const file = readText(context, childOf(block, 'file'), 'sweep.file', 400);
  const evidence = { ...context, provenance: {} };
  const points = readNumber(evidence, childOf(block, 'points'), 'sweep.points', POINTS);
  const seed = readNumber(evidence, childOf(block, 'seed'), 'sweep.seed', SEED);
  const factors = readFactors(context, childOf(block, 'factors'), scenario, design);
  if (design === 'list' && file === undefined)
    fault(context, block, 'sweep.file', 'must be given for the design list');
  return {
    design: design ?? DEFAULT_DESIGN,
    factors,
    ...(points === undefined ? {} : { points }),
    ...(seed === undefined ? {} : { seed }),
    ...(file === undefined ? {} : { file }),
  };
}

/** Nothing where the name is none of a design: then the rules of no design are held against the factors. */
function readDesign(context: Context, node: Node | undefined): string | undefined {
  if (!node) return DEFAULT_DESIGN;
  const names = DESIGNS.map(({ name }) => name);
  return readChoice(context, node, 'sweep.design', names);
}

function readFactors(
  context: Context,
  node: Node | undefined,
  scenario: Pick<Scenario, 'machine' | 'settings'>,
  design: string | undefined,
): readonly Factor[] {
  const path = 'sweep.factors';
  const block = asBlock(context, node, path);
  if (!block || block.entries.size === 0 || block.entries.size > MOST_FACTORS) {
    const needed = design !== undefined && design !== 'list';
    if (needed || block) fault(context, node, path, `must name 1 to ${MOST_FACTORS} factors`);
    return [];
  }
  const isWheel = (key: string) => /^(settings\.)?wheel$/.test(key);
  let wheels: readonly string[] = [scenario.settings.wheel];
  const read = new Map<string, Factor | undefined>();
  // the wheels come first: how far a wheel speed may go depends on them
  for (const key of [...block.entries.keys()].sort((a, b) => Number(isWheel(b)) - Number(isWheel(a)))) {
    const factor = readFactor(context, childOf(block, key)!, join(path, key), key, scenario, wheels);
    if (isWheel(key) && factor?.kind === 'levels') wheels = factor.levels.map(String);
    read.set(key, factor);
  }
  const factors = [...block.entries.keys()].flatMap((key) => read.get(key) ?? []);
  checkFactors(context, block, factors, design, wheels);
  return factors;
}

/** Whether something stands at a key of a factor, be it right or wrong. */
function textAt(factors: Block, name: string, key: string): boolean {
  const factor = childOf(factors, name) ?? childOf(factors, `settings.${name}`);
  return factor?.kind === 'block' && childOf(factor, key) !== undefined;
}

/** Two factors that set one number of the file, by whatever paths: results would follow only one of them. */
function refuseTwice(
  context: Context,
  block: Block,
  factors: readonly Factor[],
  wheels: readonly string[],
): void {
  const numbers = (path: string) =>
    path.startsWith('wheel.')
      ? wheels.map((wheel) => `machine.wheels.${wheel}${path.slice('wheel'.length)}`)
      : [path.replace(/^components\.0\.(material|feed)\./, '$1.')];
  const seen = new Map<string, string>();
  for (const { path } of factors) {
    const other = numbers(path).flatMap((number) => seen.get(number) ?? [])[0];
    if (other === path) fault(context, block, `sweep.factors.${path}`, 'is given twice; keep one');
    else if (other !== undefined)
      fault(
        context,
        block,
        `sweep.factors.${path}`,
        `sets the same number as the factor ${other}; keep one of the two`,
      );
    for (const number of numbers(path)) seen.set(number, path);
  }
}

function checkFactors(
  context: Context,
  block: Block,
  factors: readonly Factor[],
  design: string | undefined,
  wheels: readonly string[],
): void {
  refuseTwice(context, block, factors, wheels);
  if (design !== 'grid') return;
  let points = 1;
  for (const factor of factors) {
    if (factor.kind === 'levels') points *= factor.levels.length;
    else if (factor.steps !== undefined) points *= factor.steps;
    else if (!textAt(block, factor.path, 'steps'))
      fault(context, block, `sweep.factors.${factor.path}.steps`, 'must be given for a grid');
  }
  if (points > MOST_POINTS) {
    fault(
      context,
      block,
      'sweep.factors',
      `must make at most ${MOST_POINTS} points, make ${points.toExponential(2)}; fewer steps, or the design sobol`,
    );
  }
}
