import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf, toShown } from '../../scenario/units/display.ts';
import { OFF, overlap } from '../../search/compare/band.ts';
import type { AtTarget } from '../../search/compare/compared.ts';
import type { Comparison } from '../../search/compare/comparison.ts';
import { energyOf, type RotorAtTarget } from '../../search/compare/rotors.ts';
import { finesBelow } from '../../search/compare/values.ts';
import { type AnswerTable, columns } from '../document.ts';
import { listed } from '../join-words.ts';
import { label, sentence } from '../text.ts';
import { nameInWords, pageUnit } from '../words.ts';
import { rangeText, rpm, targetUnit, targetWords } from './target-words.ts';

const energy = (value: number) =>
  Number.isFinite(value) ? formatNumber(toShown(value, 'kWh/t'), 3) : 'not reached';

type ReachedRotor = RotorAtTarget & { readonly matched: AtTarget };

/** What the comparison of rotors finds, in sentences. */
export function rotorFindings({ settings }: Scenario, comparison: Comparison): string[] {
  const rotors = comparison.rotors ?? [];
  const able = rotors.filter((rotor): rotor is ReachedRotor => rotor.matched.reached);
  const held = `at ${formatQuantity(settings.feedRate, 'kg/h', 4)} with the ${label(settings.wheel)} wheel`;
  const missing = rotors.flatMap((rotor) => missingSentence(rotor, comparison));
  if (able.length === 0) return [`No rotor reaches ${targetWords(comparison)} ${held}.`, ...missing];
  const order = [...able].sort((a, b) => energyOf(a.matched.solved) - energyOf(b.matched.solved));
  const first = `Matched at ${targetWords(comparison)} ${held}, whose speed is solved anew for each rotor`;
  return [`${first}${apartWords(order)}`, ...rankSentences(order), ...missing];
}

function apartWords(order: readonly ReachedRotor[]): string {
  if (order.length === 1) return `: only ${label(order[0]!.name)} reaches it.`;
  const medians = order.map(({ matched }) => quantityNamed('x50')!.of(matched.solved));
  const apart = formatNumber((Math.max(...medians) / Math.min(...medians) - 1) * 100, 2);
  const [least, most] = [order[0]!, order.at(-1)!].map(({ matched }) => energy(energyOf(matched.solved)));
  return `: x50 differs by ${apart} %, specific energy goes from ${least} to ${most} kWh/t.`;
}

/** Rotors by their specific energy; neighbours whose bands overlap cannot be ranked. */
function rankSentences(order: readonly ReachedRotor[]): string[] {
  if (order.length < 2) return [];
  const first = `Least specific energy first: ${listed(order.map(({ name }) => label(name)))}.`;
  const unresolved = order.slice(1).flatMap((rotor, k) => {
    const before = order[k]!;
    if (!overlap(before.band!, rotor.band!)) return [];
    return [
      `${sentence(label(before.name))} and ${label(rotor.name)} cannot be ranked: their difference is within a ${OFF * 100} % error of the rotor coefficients.`,
    ];
  });
  if (unresolved.length > 0) return [first, ...unresolved];
  return [`${first} The order holds with each rotor coefficient ${OFF * 100} % off.`];
}

function missingSentence({ name, matched }: RotorAtTarget, { target }: Comparison): string[] {
  if (matched.reached) return [];
  if (matched.because === 'rotor too fast')
    return [`Rotor ${label(name)}: the speed in the file is above its maximum.`];
  const nearest = Number.isNaN(matched.nearest)
    ? ''
    : `, nearest ${formatQuantity(matched.nearest, targetUnit(target), 3)}`;
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
const MORE = ['tipSpeed', 'hitsPerPass', 'passes', 'outletTemperature'] as const;

/** A row for each rotor, those that do not reach the target among them. */
export function rotorTable({ rotors = [], target, fines }: Comparison): AnswerTable {
  const quantities = [...SHOWN, ...MORE].map((name) => quantityNamed(name)!);
  const rows = rotors.map(({ name, matched, band }): string[] => {
    if (!matched.reached) {
      const why = matched.because === 'rotor too fast' ? 'rotor too fast' : 'chokes';
      const nearest = Number.isNaN(matched.nearest)
        ? why
        : `not reached: ${formatQuantity(matched.nearest, targetUnit(target), 3)}`;
      return [label(name), rpm(matched.speed), nearest, ...Array<string>(quantities.length + 1).fill('–')];
    }
    return [
      label(name),
      rpm(matched.speed),
      rangeText(energyOf(matched.solved), band, 'kWh/t'),
      formatNumber(finesBelow(matched.solved, fines) * 100, 3),
      ...quantities.map((each) => formatNumber(toShown(each.of(matched.solved), pageUnit(each.name)), 3)),
    ];
  });
  return {
    columns: [
      ...columns(
        'rotor',
        'wheel speed, rpm',
        'specific energy, kWh/t',
        `below ${formatQuantity(fines, 'um', 3)}, %`,
      ),
      ...quantities.map(({ name }) => ({ name: nameInWords(name), unit: labelOf(pageUnit(name)) })),
    ],
    rows,
    notes: [`In brackets: the range left by a ${OFF * 100} % error of each rotor coefficient.`],
  };
}
