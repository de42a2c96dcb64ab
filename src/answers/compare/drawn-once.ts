import type { RidgeInput, RidgeLine } from '../capacity-ridge.ts';
import { listed } from '../join-words.ts';
import type { GradeLine } from '../point-view.ts';

/** Relative difference up to which two curves lie on each other. */
const ON_EACH_OTHER = 0.02;

/** Curves of capacity, those that lie on an earlier one drawn with it under both names. */
export function curvesDrawnOnce(input: RidgeInput): RidgeInput {
  return { ...input, lines: merged(input.lines, sameRidge) };
}

/** Grade-efficiency curves, those that lie on an earlier one drawn with it under both names. */
export function gradesDrawnOnce(lines: readonly GradeLine[]): GradeLine[] {
  return merged(lines, sameGrade);
}

function merged<Line extends { readonly name: string }>(
  lines: readonly Line[],
  same: (a: Line, b: Line) => boolean,
): Line[] {
  const groups: Line[][] = [];
  for (const line of lines) {
    const group = groups.find(([first]) => same(first!, line));
    if (group) group.push(line);
    else groups.push([line]);
  }
  const all = groups.length === 1 && lines.length > 2;
  return groups.map((group) => ({
    ...group[0]!,
    name: all ? `all ${lines.length}` : listed(group.map(({ name }) => name)),
  }));
}

function sameGrade(a: GradeLine, b: GradeLine): boolean {
  if (a.sizes.length !== b.sizes.length) return false;
  return Array.from(a.toCoarse).every((share, i) => Math.abs(share - b.toCoarse[i]!) <= ON_EACH_OTHER / 2);
}

/** Whether two curves of capacity agree wherever both have a value. */
function sameRidge(a: RidgeLine, b: RidgeLine): boolean {
  const compared = a.x.flatMap((x, i) => {
    const other = valueAt(b, x);
    const own = a.feed[i]!;
    return Number.isFinite(other) && Number.isFinite(own) ? [Math.abs(own / other - 1)] : [];
  });
  return compared.length > 2 && Math.max(...compared) <= ON_EACH_OTHER;
}

function valueAt({ x, feed }: RidgeLine, at: number): number {
  const i = x.findIndex((each, k) => k > 0 && at >= x[k - 1]! && at <= each);
  if (i < 1) return Number.NaN;
  const part = (at - x[i - 1]!) / (x[i]! - x[i - 1]!);
  return feed[i - 1]! + part * (feed[i]! - feed[i - 1]!);
}
