import { endsOf, type TableFactor } from '../../answers/sweep-table.ts';
import { tidy } from '../../answers/text.ts';
import { pathInWords } from '../../answers/words.ts';
import { valueAs, valueAt } from '../../scenario/operating-point.ts';
import { pathInFile } from '../../scenario/path.ts';
import type { Scenario, SettingRange } from '../../scenario/scenario.ts';
import { labelOf, toShown } from '../../scenario/units/display.ts';

/** A number or choice the page can turn. */
export type Control = {
  readonly path: string;
  readonly name: string;
  readonly group: 'settings' | 'wheel' | 'rotor' | 'coefficients';
} & (
  | {
      readonly kind: 'number';
      readonly as?: 'shaft' | 'rim';
      /** Unit as `units/display.ts` names it, and its label. */
      readonly shownIn: string;
      readonly unit: string;
      /** In the unit shown. */
      readonly min: number;
      readonly max: number;
      readonly step: number;
      readonly value: number;
      /** What the other wheels have, for a number of the chosen wheel. */
      readonly byWheel?: Readonly<Record<string, number>>;
    }
  | { readonly kind: 'choice'; readonly choices: readonly string[]; readonly value: string }
);

/** Everything the live model of a page lets one turn, at the settings given. */
export function controlsOf(scenario: Scenario, factors: readonly TableFactor[]): Control[] {
  const { machine, settings } = scenario;
  const swept = factors.find(({ path }) => path === 'wheel')?.names ?? [];
  const wheels = [...new Set([...swept, ...Object.keys(machine.wheels)])];
  const wheel: Control = {
    path: 'wheel',
    name: 'wheel',
    group: 'settings',
    kind: 'choice',
    choices: wheels,
    value: settings.wheel,
  };
  const paths = new Set(['wheel', 'wheelSpeed', 'rotorSpeed', 'feedRate', 'air.flow']);
  const others = factors.filter(({ path, names }) => !paths.has(path) && !names);
  const geometry = (['wheel', 'rotor'] as const).flatMap((owner) => geometryOf(scenario, owner));
  const taken = new Set(others.map(({ path }) => path));
  return [
    wheel,
    ...speed(scenario, 'wheelSpeed', machine.ranges?.wheelSpeed, factors),
    ...speed(scenario, 'rotorSpeed', machine.ranges?.rotorSpeed, factors),
    ...number(scenario, 'feedRate', 'kg/h', 'settings', factors, [0.2, 2]),
    ...number(scenario, 'air.flow', 'm^3/h', 'settings', factors, [0.6, 1.5]),
    ...others.flatMap(({ path, shownIn }) =>
      number(scenario, path, shownIn, 'settings', factors, [0.5, 1.5]),
    ),
    ...geometry.filter(({ path }) => !taken.has(path)),
    ...COEFFICIENTS.filter((path) => !taken.has(path)).flatMap((path) =>
      number(scenario, path, '1', 'coefficients', factors, [0.5, 1.6]),
    ),
  ];
}

/** Coefficients that stand for what a wheel or a material is found to do; the rest is in the file. */
const COEFFICIENTS = [
  'wheel.coefficients.sharpness',
  'wheel.coefficients.bypass',
  'wheel.coefficients.leakage',
  'wheel.coefficients.cutFactor',
  'material.selection.friability',
  'material.selection.threshold',
  'material.fragments.exponent',
];

function geometryOf(scenario: Scenario, owner: 'wheel' | 'rotor'): Control[] {
  const base = owner === 'wheel' ? 'wheel.geometry' : 'machine.rotor.geometry';
  const units: Readonly<Record<string, string>> =
    owner === 'wheel'
      ? { diameter: 'mm', height: 'mm', vanes: '1', thickness: 'mm', lean: 'deg' }
      : { count: '1', height: 'mm', width: 'mm', gap: 'mm' };
  return Object.entries(units).flatMap(([key, unit]) => {
    const control = number(scenario, `${base}.${key}`, unit, owner, [], [0.5, 1.8]);
    if (key === 'lean') return control.map((each) => ({ ...each, min: 0, max: 50, step: 1 }));
    return unit === '1' ? control.map(wholeNumbers) : control;
  });
}

function wholeNumbers(control: Control): Control {
  if (control.kind !== 'number') return control;
  return { ...control, min: Math.round(control.min), max: Math.round(control.max), step: 1 };
}

function speed(
  scenario: Scenario,
  path: 'rotorSpeed' | 'wheelSpeed',
  range: SettingRange | undefined,
  factors: readonly TableFactor[],
): Control[] {
  const swept = factors.find((factor) => factor.path === path);
  const as = swept?.as ?? scenario.settings[path].as;
  const { machine, settings } = scenario;
  const [highest, diameter] =
    path === 'rotorSpeed'
      ? [machine.rotor.maxSpeed, machine.rotor.geometry.diameter]
      : [machine.wheels[settings.wheel]!.maxSpeed, machine.wheels[settings.wheel]!.geometry.diameter];
  const unit = as === 'shaft' ? 'rpm' : 'm/s';
  const scale = as === 'shaft' ? 1 : Math.PI * diameter;
  const fits = range && (range.as ?? 'shaft') === as;
  const ends = fits ? [range.from, range.to] : [0.1 * highest * scale, highest * scale];
  return number(scenario, path, unit, 'settings', factors, [0.5, 1.5]).map((control) => {
    if (control.kind !== 'number' || swept) return { ...control, as };
    return { ...control, as, ...niceRange(toShown(ends[0]!, unit), toShown(ends[1]!, unit), control.value) };
  });
}

function number(
  scenario: Scenario,
  path: string,
  shownIn: string,
  group: Control['group'],
  factors: readonly TableFactor[],
  reach: readonly [number, number],
): Control[] {
  const factor = factors.find((each) => each.path === path);
  const si = valueAs(scenario, path, factor?.as);
  if (typeof si !== 'number') return [];
  const unit =
    factor?.shownIn ?? scenario.provenance[pathInFile(path, scenario.settings.wheel)]?.unit ?? shownIn;
  const value = tidy(toShown(si, unit));
  const [from, to] = factor ? endsOf(factor.values) : [value * reach[0], value > 0 ? value * reach[1] : 1];
  return [
    {
      kind: 'number',
      path,
      name: pathInWords(path),
      group,
      shownIn: unit,
      unit: labelOf(unit),
      value,
      ...niceRange(Math.min(from, value), Math.max(to, value), value, Boolean(factor)),
      ...wheelValues(scenario, path, unit),
    },
  ];
}

function wheelValues(scenario: Scenario, path: string, unit: string): { byWheel?: Record<string, number> } {
  if (!path.startsWith('wheel.')) return {};
  const values = Object.keys(scenario.machine.wheels).flatMap((name) => {
    const si = valueAt(scenario, pathInFile(path, name));
    return typeof si === 'number' ? [[name, tidy(toShown(si, unit))] as const] : [];
  });
  return { byWheel: Object.fromEntries(values) };
}

/** Round ends and a round step of about two hundred to the range. */
function niceRange(
  from: number,
  to: number,
  value: number,
  exact = false,
): { min: number; max: number; step: number } {
  const rough = (to - from) / 200 || Math.abs(value) / 100 || 0.01;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = Number((power * ([1, 2, 5, 10].find((each) => each * power >= rough) ?? 10)).toPrecision(3));
  if (exact) return { min: from, max: to, step };
  const round = (end: number) => Number((Math.round(end / step) * step).toPrecision(6));
  return { min: round(from), max: round(to), step };
}
