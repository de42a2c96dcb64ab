/** Something every law of a kind must hold to, and the first place where one does not. */
export interface Rule {
  /** After "must", e.g. `never fall with size`. */
  readonly must: string;
  /** The first place where it does not hold, in words; undefined where it holds everywhere. */
  readonly broken: () => string | undefined;
}

/** Longest text of an error of the law's own code that is repeated. */
const SAID = 200;

/**
 * The rules that do not hold, a sentence each. A rule whose check throws does not hold: the law's own code failed.
 *
 * @example brokenRules([{ must: 'be even', broken: () => (3 % 2 === 0 ? undefined : '3 is odd') }]) // ['must be even: 3 is odd']
 */
export function brokenRules(rules: readonly Rule[]): string[] {
  return rules.flatMap(({ must, broken }) => {
    const found = firstPlace(broken);
    return found === undefined ? [] : [`must ${must}: ${found}`];
  });
}

function firstPlace(broken: Rule['broken']): string | undefined {
  try {
    return broken();
  } catch (error) {
    return `its code fails with "${(error instanceof Error ? error.message : String(error)).slice(0, SAID)}"`;
  }
}

/** The first text that any of the items gives. */
export function firstOf<T>(items: Iterable<T>, say: (item: T) => string | undefined): string | undefined {
  for (const item of items) {
    const said = say(item);
    if (said !== undefined) return said;
  }
  return undefined;
}

/** Values from low up to below high, each `ratio` times the one before. */
export function geometric(low: number, high: number, ratio: number): number[] {
  const values: number[] = [];
  for (let value = low; value < high; value *= ratio) values.push(value);
  return values;
}

/** A number in a sentence. */
export function told(value: unknown): string {
  return typeof value === 'number' ? String(Number(value.toPrecision(6))) : String(value);
}

/** |value/wanted − 1| ≤ tolerance. */
export function isNear(value: number, wanted: number, tolerance: number): boolean {
  return Math.abs(value / wanted - 1) <= tolerance;
}
