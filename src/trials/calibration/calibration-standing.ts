import { otherVersion } from '../../scenario/other-version.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { type Covered, coveredBy, type MadeOf } from './made-of.ts';

/** How far a calibration holds where it is used: one record and one sentence for every answer. */
export interface CalibrationStanding {
  /** `whole` of this material and machine; `machine` or `material` only that side; `none`: neither, or no calibration. */
  readonly side: 'whole' | 'machine' | 'material' | 'none';
  readonly lackOfFit: boolean;
  /** Settings beyond what was tried, in words: `feed rate 500 kg/h (tried 140 to 320 kg/h)`. */
  readonly outside: readonly string[];
  /** Cautions that hold at any settings, as full sentences, worst first; empty where the calibration holds as it is. */
  readonly general: readonly string[];
  /** The same with what these settings add. */
  readonly sentences: readonly string[];
}

/** Beyond the settings tried by this share a forecast is an extrapolation (`assumed`). */
const BEYOND = 0.1;
const NAMES: Readonly<Record<keyof Covered, readonly [name: string, unit: string, factor: number]>> = {
  rotorTip: ['rotor tip speed', 'm/s', 1],
  wheelRim: ['wheel rim speed', 'm/s', 1],
  feedRate: ['feed rate', 'kg/h', 3600],
  airFlow: ['air flow', 'm³/h', 3600],
};

/**
 * What the calibration of a scenario is worth at its settings: whether it is of another material or machine, whether its
 * trials were fitted, and whether the settings lie beyond what was tried.
 */
export function calibrationStanding(scenario: Scenario): CalibrationStanding {
  const { calibration } = scenario;
  if (!calibration) return { side: 'none', lackOfFit: false, outside: [], general: [], sentences: [] };
  const of = calibration.of as Partial<MadeOf> | undefined;
  const used = takenUpOf(calibration);
  const side = used.material ? (used.machine ? 'whole' : 'material') : used.machine ? 'machine' : 'none';
  const fit = calibration.fit as { lackOfFit?: unknown } | undefined;
  const lackOfFit = fit?.lackOfFit === true;
  const outside = of?.covered && side !== 'none' ? beyond(scenario, of as MadeOf) : [];
  const general = [
    ...sideSentence(scenario, of, side),
    ...(side === 'none' ? [] : versionSentence(calibration)),
    ...(lackOfFit
      ? [
          'The calibration does not fit its own trials within the measuring errors: its bands are wider for it.',
        ]
      : []),
  ];
  const extrapolation =
    outside.length > 0
      ? [
          `This is an extrapolation beyond the settings tried: ${outside.join('; ')}. Its bands are wider for it.`,
        ]
      : [];
  return { side, lackOfFit, outside, general, sentences: [...general, ...extrapolation] };
}

/** Which sides of a calibration a scenario took up. */
export function takenUpOf(calibration: Readonly<Record<string, unknown>>): {
  readonly material: boolean;
  readonly machine: boolean;
} {
  const used = calibration.takenUp as { material?: unknown; machine?: unknown } | undefined;
  return { material: used?.material !== false, machine: used?.machine !== false };
}

/** A calibration holds for the equations it was fitted with. */
function versionSentence({ version, readBy }: Readonly<Record<string, unknown>>): string[] {
  if (version === undefined || readBy === undefined) return [];
  const sentence = otherVersion(
    'The calibration was fitted',
    String(version),
    String(readBy),
    'fit its trials again',
  );
  return sentence === undefined ? [] : [sentence];
}

function sideSentence(
  scenario: Scenario,
  of: Partial<MadeOf> | undefined,
  side: CalibrationStanding['side'],
): string[] {
  const materials = of?.materials?.join(' and ');
  const own = scenario.components.map(({ material }) => material.name).join(' and ');
  switch (side) {
    case 'whole':
      return [];
    case 'machine':
      return [
        `The calibration is of ${materials}, not of ${own}: only its coefficients of the machine are used, those of the material are not calibrated.`,
      ];
    case 'material':
      return [
        `The calibration was made on ${of?.machine}, not on ${scenario.machine.name}: only its coefficients of the material are used, those of the machine are not calibrated.`,
      ];
    case 'none':
      return [
        `The calibration is of ${materials} on ${of?.machine}, not of ${own} on ${scenario.machine.name}: nothing of it is used.`,
      ];
  }
}

function beyond(scenario: Scenario, of: MadeOf): string[] {
  const here = coveredBy(scenario);
  const numbers = (Object.keys(NAMES) as (keyof Covered)[]).flatMap((key) => {
    const [low, high] = of.covered[key] ?? [0, Number.POSITIVE_INFINITY];
    const value = here[key];
    if (value >= low * (1 - BEYOND) && value <= high * (1 + BEYOND)) return [];
    const [name, unit, factor] = NAMES[key];
    const text = (x: number): string => formatNumber(x * factor, 3);
    const tried = high > low * (1 + 1e-3) ? `${text(low)} to ${text(high)}` : text(high);
    return [`${name} ${text(value)} ${unit} (tried ${tried} ${unit})`];
  });
  const { wheel } = scenario.settings;
  return of.wheels && !of.wheels.includes(wheel) ? [`wheel ${wheel} (not tried)`, ...numbers] : numbers;
}
