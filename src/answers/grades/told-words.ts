import { formatNumber } from '../../scenario/units/display.ts';
import type { GradesWeighed } from '../../search/next/weigh-grades.ts';
import { listed } from '../join-words.ts';

/** A change of uncertainty smaller than this share of it is not named. */
const NO_NEWS = 0.02;

/** Uncertainty as a text: 9 %. */
function uncertainty(error: number): string {
  return error < 1 ? `${formatNumber(100 * error, 2)} %` : 'more than 100 %';
}

/** Which run tells most of all grades. */
export function tellsMost({ runs, total }: GradesWeighed): string[] {
  const [best] = runs;
  if (!best || runs.length < 2) return [];
  return [
    `One fit serves all grades: of these runs ${best.name} determines most, it is expected to reduce the uncertainty of all answers together from ${uncertainty(total)} to ${uncertainty(best.total)}. If only one run can be made, make that one.`,
  ];
}

/** What the run of a grade tells of the others: `expected to reduce the uncertainty of fine from 30 % to 12 %`. */
export function toldOfOthers(
  names: readonly string[],
  { before, runs }: GradesWeighed,
  run: string,
): string | undefined {
  const told = runs.find(({ name }) => name === run);
  if (!told) return undefined;
  const changes = names.flatMap((name, k) =>
    told.after[k]! < before[k]! * (1 - NO_NEWS)
      ? [`${name} from ${uncertainty(before[k]!)} to ${uncertainty(told.after[k]!)}`]
      : [],
  );
  if (changes.length === 0) return undefined;
  return `It is expected to reduce the uncertainty of ${listed(changes)}.`;
}

/** The same under the keys of `--json`. */
export function toldKeys(names: readonly string[], { before, total, runs }: GradesWeighed) {
  const byName = (errors: readonly number[]) =>
    Object.fromEntries(names.map((name, k) => [name, errors[k]!]));
  return {
    now: { all: total, grades: byName(before) },
    after: runs.map((run) => ({ grade: run.name, all: run.total, grades: byName(run.after) })),
  };
}
