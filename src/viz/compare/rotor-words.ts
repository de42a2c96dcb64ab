import { listed } from '../../answers/join-words.ts';
import { measureText } from '../../answers/measure.ts';
import type { Table } from '../../answers/table.ts';
import { label } from '../../answers/text.ts';
import { pageUnit, quantityMeasure } from '../../answers/words.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity, toShown } from '../../scenario/units/display.ts';
import { OFF, overlap } from '../../search/compare/band.ts';
import type { Comparison } from '../../search/compare/comparison.ts';
import { energyOf, type RotorAtTarget } from '../../search/compare/rotors.ts';
import { finesBelow } from '../../search/compare/values.ts';
import { targetWords } from './words.ts';

const rpm = (speed: number) => formatNumber(toShown(speed, 'rpm'), 4);
const energy = (value: number) =>
  Number.isFinite(value) ? formatNumber(toShown(value, 'kWh/t'), 3) : 'not reached';

type Reached = RotorAtTarget & { readonly matched: { readonly reached: true } };

/** What the comparison of rotors finds, in sentences. */
export function rotorFindings({ settings }: Scenario, comparison: Comparison): string[] {
  const rotors = comparison.rotors ?? [];
  const able = rotors.filter((rotor): rotor is Reached => rotor.matched.reached);
  const held = `at ${formatQuantity(settings.feedRate, 'kg/h', 4)} with the ${label(settings.wheel)} wheel`;
  const missing = rotors.flatMap((rotor) => missingWords(rotor, comparison));
  if (able.length === 0) return [`No rotor reaches ${targetWords(comparison)} ${held}.`, ...missing];
  const order = [...able].sort((a, b) => energyOf(a.matched.solved) - energyOf(b.matched.solved));
  const first = `Matched at ${targetWords(comparison)} ${held}, whose speed is solved anew for each rotor`;
  return [`${first}${apartWords(order)}`, ...rankWords(order), ...missing];
}

function apartWords(order: readonly Reached[]): string {
  if (order.length === 1) return `: only ${label(order[0]!.name)} reaches it.`;
  const medians = order.map(({ matched }) => quantityNamed('x50')!.of(matched.solved));
  const apart = formatNumber((Math.max(...medians) / Math.min(...medians) - 1) * 100, 2);
  const [least, most] = [order[0]!, order.at(-1)!].map(({ matched }) => energy(energyOf(matched.solved)));
  return `: x50 differs by ${apart} %, specific energy goes from ${least} to ${most} kWh/t.`;
}

/** Rotors by their specific energy, neighbours apart only where their bands are. */
function rankWords(order: readonly Reached[]): string[] {
  if (order.length < 2) return [];
  const unresolved = order
    .slice(1)
    .flatMap((rotor, k) =>
      overlap(order[k]!.band!, rotor.band!) ? [`${label(order[k]!.name)} against ${label(rotor.name)}`] : [],
    );
  const first = `Least specific energy first: ${listed(order.map(({ name }) => label(name)))}.`;
  return [
    unresolved.length === 0
      ? `${first} The order holds with each factor of the rotor off by ${OFF * 100} %.`
      : `${first} Not resolved while each factor of the rotor may be ${OFF * 100} % off: ${listed(unresolved)}.`,
  ];
}

function missingWords({ name, matched }: RotorAtTarget, { target }: Comparison): string[] {
  if (matched.reached) return [];
  if (matched.because === 'rotor too fast')
    return [`Rotor ${label(name)} may not turn as fast as the file asks.`];
  const { shownIn } = quantityNamed(target.quantity)!;
  const nearest = Number.isNaN(matched.nearest)
    ? ''
    : `, nearest ${formatQuantity(matched.nearest, shownIn, 3)}`;
  const why = {
    'top speed': 'below the highest speed of the wheel',
    'chokes before': 'before the mill chokes',
    'coarser than asked at rest': 'however slowly the wheel turns',
  }[matched.because];
  return [
    `Rotor ${label(name)} does not reach it ${why}${nearest} at ${rpm(matched.speed)} rpm of the wheel.`,
  ];
}

const SHOWN = ['x50', 'span', 'feedAtChoke', 'feedMargin', 'rotorPower', 'motorLoad'] as const;
const MORE = ['specificEnergy', 'tipSpeed', 'hitsPerPass', 'passes', 'outletTemperature'] as const;

/** A column for each rotor, those that do not reach the target among them. */
export function rotorColumns({ rotors = [], target, fines }: Comparison): Table {
  const { shownIn } = quantityNamed(target.quantity)!;
  const quantities = [...SHOWN, ...MORE].map((name) => quantityNamed(name)!);
  const cells = rotors.map(({ matched, band }): string[] => {
    if (!matched.reached) {
      const why = matched.because === 'rotor too fast' ? 'rotor too fast' : 'chokes';
      const nearest = Number.isNaN(matched.nearest)
        ? why
        : `not reached: ${formatQuantity(matched.nearest, shownIn, 3)}`;
      return [rpm(matched.speed), nearest, ...Array<string>(quantities.length + 1).fill('–')];
    }
    return [
      rpm(matched.speed),
      `${energy(band!.low)} to ${energy(band!.high)}`,
      formatNumber(finesBelow(matched.solved, fines) * 100, 3),
      ...quantities.map((each) => formatNumber(toShown(each.of(matched.solved), pageUnit(each.name)), 3)),
    ];
  });
  const heads = [
    'wheel speed, rpm',
    `specific energy, each factor of the rotor ±${OFF * 100} %, kWh/t`,
    `below ${formatQuantity(fines, 'um', 3)}, %`,
    ...quantities.map(({ name }) => measureText(quantityMeasure(name))),
  ];
  return {
    heads: ['', ...rotors.map(({ name }) => label(name))],
    rows: heads.map((head, r) => [head, ...cells.map((column) => column[r]!)]),
  };
}
