import { readFileSync } from 'node:fs';
import { InputError } from '../../src/scenario/errors.ts';
import { filesBeside } from '../../src/scenario/load.ts';
import { parseScenario } from '../../src/scenario/parse.ts';
import { parametersOf } from '../../src/scenario/read/parameters-of.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { formatNumber, shownUnits, siUnitOf, toShown } from '../../src/scenario/units/display.ts';

/** How a class of slips fared. */
export interface Tally {
  readonly slip: string;
  readonly tried: number;
  /** Refused as bad input. */
  readonly refused: number;
  /** Accepted with a note that the sound file does not have. */
  readonly questioned: number;
  /** Accepted without a word: `path = text`. */
  readonly silent: readonly string[];
}

/** A number as it stands, and as it is mistyped; undefined where a slip is none. */
type Slip = (number: number, unit: string) => string | undefined;

const factorOf = (unit: string): number => 1 / toShown(1, unit);
/** A unit of the same kind a thousand times as large or as small, as mm for µm; a pure number has none. */
const thousandfold = (unit: string, times: number): string | undefined =>
  siUnitOf(unit) === '1'
    ? undefined
    : shownUnits().find(
        (other) =>
          siUnitOf(other) === siUnitOf(unit) && Math.abs(factorOf(other) / factorOf(unit) / times - 1) < 1e-9,
      );
const written = (number: number, unit: string): string =>
  `${formatNumber(number, 6)} ${unit === '1' ? '' : unit}`.trim();

const SLIPS: Readonly<Record<string, Slip>> = {
  'a unit a thousand times too large': (number, unit) => {
    const other = thousandfold(unit, 1e3);
    return other && written(number, other);
  },
  'a unit a thousand times too small': (number, unit) => {
    const other = thousandfold(unit, 1e-3);
    return other && written(number, other);
  },
  'no unit': (number, unit) => (unit === '1' ? undefined : formatNumber(number, 6)),
  'a percent sign left out': (number, unit) => (unit === '%' ? formatNumber(number, 6) : undefined),
  'a decimal comma': (number, unit) =>
    written(number, unit).includes('.') ? written(number, unit).replace('.', ',') : undefined,
  'a comma between thousands': (number, unit) =>
    number >= 1000 && Number.isInteger(number)
      ? written(number, unit).replace(/(\d+)(\d{3})/, '$1,$2')
      : undefined,
  'a point between thousands': (number, unit) =>
    number >= 1000 && Number.isInteger(number)
      ? written(number, unit).replace(/(\d+)(\d{3})/, '$1.$2')
      : undefined,
  'a minus': (number, unit) => (number > 0 ? `-${written(number, unit)}` : undefined),
  'a unit of another kind': (number, unit) =>
    `${formatNumber(number, 6)} ${siUnitOf(unit) === 'A' ? 'kg' : 'A'}`,
  'two digits too many': (number, unit) => (number > 0 ? written(100 * number, unit) : undefined),
};

/**
 * Every number of a sound scenario mistyped in every way, one at a time: how many are refused, questioned, or accepted
 * without a word.
 */
export function wrongAcceptance(file = 'scenarios/erythritol.yaml'): Tally[] {
  const text = readFileSync(file, 'utf8');
  const files = filesBeside(file);
  const read = (set: readonly string[]): Scenario => parseScenario(text, { ...files, set });
  const sound = read([]);
  const notes = new Set(sound.warnings.map(({ message }) => message));
  const paths = [...parametersOf(sound).keys()].filter((path) => sound.provenance[path] !== undefined);
  return Object.entries(SLIPS).map(([slip, mistype]) => {
    const tally = { slip, tried: 0, refused: 0, questioned: 0, silent: [] as string[] };
    for (const path of paths) {
      const { value, unit } = sound.provenance[path]!;
      if (!Number.isFinite(value)) continue;
      const typed = mistype(value, unit);
      if (typed === undefined) continue;
      tally.tried++;
      try {
        const { warnings } = read([`${path}=${typed}`]);
        if (warnings.some(({ message }) => !notes.has(message))) tally.questioned++;
        else tally.silent.push(`${path} = ${typed} (for ${written(value, unit)})`);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        tally.refused++;
      }
    }
    return tally;
  });
}

/** Share of slips that must be refused or questioned. */
export const LEAST_TOLD = 0.95;

/** Share of slips that were refused or questioned. */
export function shareTold(tallies: readonly Tally[]): number {
  const tried = tallies.reduce((sum, tally) => sum + tally.tried, 0);
  return tallies.reduce((sum, { refused, questioned }) => sum + refused + questioned, 0) / tried;
}
