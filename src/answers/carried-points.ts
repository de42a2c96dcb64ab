import { namesIn } from '../scenario/expression/expression.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { Column } from '../sweep/study/column.ts';

/** Most points a page carries: with them a report stays below 4 MB, and a plane has more of them than the eye tells apart. */
export const MOST_CARRIED = 36_000;

/** Rows of a sweep as a store gives them. */
interface Rows {
  readonly count: number;
  readonly values: Readonly<Record<string, Float64Array>>;
}

/** Columns by which all points are ranked: factors, margins, reasons, limits of the machine, and what the goal needs. */
export function rankingColumns(columns: readonly Column[], { goal }: Scenario): Column[] {
  const names = new Set(['feedMargin', 'motorLoad', 'rotorSpeedUse', 'wheelSpeedUse']);
  for (const name of goal ? namesIn(goal.expression) : []) names.add(name);
  const known: ReadonlySet<string> = new Set(['factor', 'reason', 'margin', 'meetsSpec']);
  return columns.filter(({ role, of }) => known.has(role) || names.has(of.replace(/\(.*$/, '')));
}

/**
 * Which points of a large sweep go into a page, as a condition on the rows of its store: of a grid an even choice of the
 * levels of every number, first and last among them, with all names; of another design its first points.
 *
 * @param rows every point, with the columns of the factors
 * @returns undefined where all points go in
 */
export function carriedCondition(
  { count, values }: Rows,
  columns: readonly Column[],
  design: string,
  most = MOST_CARRIED,
): string | undefined {
  if (count <= most) return undefined;
  if (design !== 'grid') return `"index" < ${most}`;
  const factors = columns.filter(({ role }) => role === 'factor');
  const axes = factors
    .filter(({ names }) => names === undefined)
    .map(({ name }) => ({
      name,
      levels: [...new Set(values[name]!)].filter(Number.isFinite).sort((a, b) => a - b),
    }));
  const kept = axes.map(({ levels }) => levels.length);
  const named = count / kept.reduce((product, each) => product * each, 1);
  const points = () => kept.reduce((product, each) => product * each, named);
  // the longest axis gives first, so that no direction becomes coarse before the others
  while (points() > most && kept.some((each) => each > 2)) kept[kept.indexOf(Math.max(...kept))]!--;
  const conditions = axes.map(({ name, levels }, j) => {
    const chosen = chosenOf(levels, kept[j]!).map((level) => `CAST('${level}' AS DOUBLE)`);
    return `("${name}" IS NULL OR CAST("${name}" AS DOUBLE) IN (${chosen.join(', ')}))`;
  });
  return conditions.length > 0 ? conditions.join(' AND ') : `"index" < ${most}`;
}

/** So many of some levels, evenly by their places, the ends among them. */
function chosenOf(levels: readonly number[], count: number): number[] {
  if (count >= levels.length) return [...levels];
  const step = (levels.length - 1) / (count - 1);
  return Array.from({ length: count }, (_, i) => levels[Math.round(i * step)]!);
}

/** What a reader should know of a page that carries only part of a sweep. */
export function carriedWords(carried: number, stored: number, design: string): string {
  const which = design === 'grid' ? 'an even choice of the levels swept' : 'the first of the design';
  const shown = (count: number) => String(count).replace(/\B(?=(\d{3})+$)/g, '\u202f');
  return `The figures are drawn from ${shown(carried)} of ${shown(stored)} points, ${which}; the recommendation is of all points, and all are in the store (grindloop sql, sweep --export).`;
}
