import { toCase, valueAt } from '../scenario/operating-point.ts';
import { pathInFile } from '../scenario/path.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, isShownUnit, labelOf, toShown } from '../scenario/units/display.ts';
import type { Change } from './change.ts';
import { factorKind } from './factor-kind.ts';
import { listed } from './join-words.ts';
import { label } from './text.ts';
import { nameInWords, pathInWords } from './words.ts';

/** The settings always named. */
const NAMED: ReadonlySet<string> = new Set(['wheel', 'wheelSpeed', 'rotorSpeed', 'feedRate']);

/**
 * Settings as one reads them out: `the medium leaning wheel at 1500 rpm, rotor 5730 rpm, 300 kg/h`. A wheel that differs from the
 * file's in its design is not that wheel: `a wheel like leaning, but with height 121 mm (80 mm in the file), at 1767 rpm …`.
 *
 * @param file scenario the changes were made to; nothing but the settings is compared without it
 */
export function settingsText(scenario: Scenario, file?: Scenario, changes: readonly Change[] = []): string {
  const { settings } = toCase(scenario);
  const rpm = (speed: number) => formatQuantity(speed, 'rpm', 4);
  const others = changes.filter(({ path }) => !NAMED.has(path.replace(/^settings\./, '')));
  const ofWheel = others.filter(
    (change) => factorKind(change.path) === 'design' && /^wheel\.|\.wheels\./.test(change.path),
  );
  const rest = others.filter((change) => !ofWheel.includes(change));
  const wheel = wheelText(scenario, file, ofWheel);
  const more = rest
    .map((change) => differenceText(scenario, file, change, pathInWords))
    .filter((text) => text !== '');
  const with_ = more.length > 0 ? `, with ${listed(more)}` : '';
  return `${wheel} at ${rpm(settings.wheelSpeed)}, rotor ${rpm(settings.rotorSpeed)}, ${formatQuantity(settings.feedRate, 'kg/h', 3)}${with_}`;
}

function wheelText(scenario: Scenario, file: Scenario | undefined, changes: readonly Change[]): string {
  const name = label(scenario.settings.wheel);
  const differences = changes
    .map((change) => differenceText(scenario, file, change, nameInWords))
    .filter((text) => text !== '');
  return differences.length === 0
    ? `the ${name} wheel`
    : `a wheel like ${name}, but with ${listed(differences)},`;
}

/** `height 121 mm (80 mm in the file)`; empty where the value is that of the file. */
function differenceText(
  scenario: Scenario,
  file: Scenario | undefined,
  { path, value }: Change,
  words: (path: string) => string,
): string {
  const { wheel } = scenario.settings;
  const known = scenario.provenance[pathInFile(path, wheel)];
  const unit = known && isShownUnit(known.unit) ? known.unit : '1';
  const said = (each: number | string | undefined) =>
    typeof each === 'number'
      ? `${formatNumber(toShown(each, unit), 3)}${unitText(unit)}`
      : label(String(each));
  const before = file && valueAt({ ...file, settings: { ...file.settings, wheel } }, path);
  if (before !== undefined && said(before) === said(value)) return '';
  return `${words(path)} ${said(value)}${before === undefined ? '' : ` (${said(before)} in the file)`}`;
}

function unitText(unit: string): string {
  const shown = labelOf(unit);
  return shown === '' || shown === '°' ? shown : ` ${shown}`;
}
