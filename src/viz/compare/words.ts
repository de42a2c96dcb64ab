import { listed } from '../../answers/join-words.ts';
import type { Table } from '../../answers/table.ts';
import { label } from '../../answers/text.ts';
import { nameInWords, pageUnit } from '../../answers/words.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf, toShown } from '../../scenario/units/display.ts';
import { OFF, overlap } from '../../search/compare/band.ts';
import type { Comparison, WheelAtTarget } from '../../search/compare/comparison.ts';
import { finesBelow } from '../../search/compare/values.ts';

const percent = (share: number) => formatNumber(share * 100, 3);
const rpm = (speed: number) => formatNumber(toShown(speed, 'rpm'), 4);

/** The target in words: `x95 65.6 µm`. */
export function targetWords({ target }: Comparison): string {
  const { shownIn } = quantityNamed(target.quantity)!;
  return `${nameInWords(target.quantity)} ${formatQuantity(target.value, shownIn, 4)}`;
}

type Reached = WheelAtTarget & { readonly matched: { readonly reached: true } };

function reached({ wheels }: Comparison): Reached[] {
  return wheels.filter((wheel): wheel is Reached => wheel.matched.reached);
}

/** Settings the comparison holds still. */
export function heldWords({ settings }: Scenario, comparison: Comparison): string {
  const one = reached(comparison)[0];
  const rotor = one ? `rotor ${rpm(one.matched.solved.case.settings.rotorSpeed)} rpm, ` : '';
  return `${rotor}${formatQuantity(settings.feedRate, 'kg/h', 4)}`;
}

/** What the comparison finds, in sentences; the first is the answer. */
export function findings(scenario: Scenario, comparison: Comparison): string[] {
  const able = reached(comparison);
  if (able.length === 0)
    return [`No wheel reaches ${targetWords(comparison)} at ${heldWords(scenario, comparison)}.`];
  return [productWords(comparison, able), ...rankWords(able), ...missingWords(comparison), SHARPNESS];
}

const SHARPNESS =
  'Sharpness, bypass and leakage are typed in, not predicted: no drawing gives them. Three measured curves do: grindloop grade.';

function productWords(comparison: Comparison, able: readonly Reached[]): string {
  const at = targetWords(comparison);
  if (able.length === 1) return `Only the ${label(able[0]!.name)} wheel reaches ${at}.`;
  const medians = able.map(({ matched }) => quantityNamed('x50')!.of(matched.solved));
  const [low, high] = [Math.min(...medians), Math.max(...medians)];
  const apart = `x50 differs by ${formatNumber((high / low - 1) * 100, 2)} %`;
  const speeds = able.map(({ matched }) => matched.speed);
  const differ = `what differs is wheel speed, ${rpm(Math.min(...speeds))} to ${rpm(Math.max(...speeds))} rpm, and the wheel's power and pressure loss`;
  return comparison.unequal.length === 0
    ? `Matched at ${at}, all wheels give the same product (${apart}); ${differ}. With equal sharpness, bypass and leakage, geometry acts through the cut alone.`
    : `Matched at ${at}, ${apart}; ${differ}. The wheels are not given equal ${listed(comparison.unequal.map(nameInWords))}, and only that makes the products differ.`;
}

/** Wheels by the speed they need, neighbours apart only where their bands are. */
function rankWords(able: readonly Reached[]): string[] {
  if (able.length < 2) return [];
  const order = [...able].sort((a, b) => a.matched.speed - b.matched.speed);
  const unresolved = order
    .slice(1)
    .flatMap((wheel, k) =>
      overlap(order[k]!.band!, wheel.band!) ? [`${label(order[k]!.name)} against ${label(wheel.name)}`] : [],
    );
  const names = order.map(({ name }) => label(name));
  const first = `Slowest wheel first: ${listed(names)}.`;
  return [
    unresolved.length === 0
      ? `${first} The order holds with each factor of the cut off by ${OFF * 100} %.`
      : `${first} Not resolved while each factor of the cut may be ${OFF * 100} % off: ${listed(unresolved)}.`,
  ];
}

function missingWords(comparison: Comparison): string[] {
  const { shownIn } = quantityNamed(comparison.target.quantity)!;
  return comparison.wheels.flatMap(({ name, matched }) => {
    if (matched.reached) return [];
    const nearest = Number.isNaN(matched.nearest)
      ? ''
      : `, nearest ${formatQuantity(matched.nearest, shownIn, 3)}`;
    const why = {
      'top speed': 'below its highest speed',
      'chokes before': 'before the mill chokes',
      'coarser than asked at rest': 'however slowly it turns',
      'rotor too fast': 'as the rotor may not turn so fast',
    }[matched.because];
    return [`The ${label(name)} wheel does not reach it ${why}${nearest} at ${rpm(matched.speed)} rpm.`];
  });
}

/** One row a wheel, those that do not reach the target among them. */
function wheelsTable(comparison: Comparison): Table {
  const { shownIn } = quantityNamed(comparison.target.quantity)!;
  const columns = ['x50', 'span', 'feedMargin', 'rotorPower', 'wheelPower', 'specificEnergy', 'pressureLoss'];
  const more = ['outletTemperature', 'sharpness', 'bypass', 'cutSize'];
  const shown = [...columns, ...more].map((name) => quantityNamed(name)!);
  const head = (name: string, unit: string) => (unit ? `${name}, ${unit}` : name);
  return {
    heads: [
      'wheel',
      'speed, rpm',
      `speed, each factor of the cut ±${OFF * 100} %, rpm`,
      'speed over its highest, %',
      `below ${formatQuantity(comparison.fines, 'um', 3)}, %`,
      ...shown.map((quantity) => head(nameInWords(quantity.name), labelOf(pageUnit(quantity.name)))),
    ],
    rows: comparison.wheels.map(({ name, matched, band }) => {
      if (!matched.reached) {
        const nearest = Number.isNaN(matched.nearest)
          ? 'chokes'
          : `not reached: ${formatQuantity(matched.nearest, shownIn, 3)}`;
        return [label(name), rpm(matched.speed), nearest, ...Array<string>(shown.length + 2).fill('–')];
      }
      const { solved, speed } = matched;
      return [
        label(name),
        rpm(speed),
        `${rpm(band!.low)} to ${rpm(band!.high)}`,
        percent(speed / solved.case.wheel.maxSpeed),
        percent(finesBelow(solved, comparison.fines)),
        ...shown.map((quantity) => formatNumber(toShown(quantity.of(solved), pageUnit(quantity.name)), 3)),
      ];
    }),
  };
}

/** The same with a column for each wheel, so that it fits a page or a terminal. */
export function wheelColumns(comparison: Comparison): Table {
  const { heads, rows } = wheelsTable(comparison);
  return {
    heads: ['', ...rows.map(([name]) => name!)],
    rows: heads.slice(1).map((head, c) => [head, ...rows.map((row) => row[c + 1]!)]),
  };
}

/** What sharpness, bypass and leakage would be worth if they were measured better. */
export function worthTable({ worth, fines }: Comparison): Table | undefined {
  if (!worth || worth.rows.length === 0) return undefined;
  const change = (pair: readonly [number, number] | undefined, factor: number) =>
    pair ? `${formatNumber(pair[0] * factor, 3)} → ${formatNumber(pair[1] * factor, 3)}` : 'not reached';
  return {
    heads: [
      'if',
      'from',
      'to',
      `below ${formatQuantity(fines, 'um', 3)}, %`,
      'specific energy, kWh/t',
      'feed margin to choke, %',
    ],
    rows: worth.rows.map(({ coefficient, from, to, fines: share, energy, margin }) => [
      `${coefficient} were`,
      formatNumber(from, 3),
      formatNumber(to, 3),
      change(share, 100),
      change(energy, toShown(1, 'kWh/t')),
      change(margin, 100),
    ]),
  };
}

/** How cut and feed at choke follow each geometry number, at the matched speed of each wheel. */
export function slopesTable(comparison: Comparison): Table {
  const rows = reached(comparison).flatMap(({ name, slopes, matched }) =>
    slopes!.map(({ key, cut, choke }) => {
      const lean = key === 'lean' && matched.solved.case.wheel.geometry.lean === 0;
      const step = lean ? (5 * Math.PI) / 180 : 0.1;
      const percentOf = (slope: number) =>
        formatNumber((Math.exp(slope * step) - 1) * 100, 2).replace('-', '−');
      return [
        label(name),
        lean ? 'lean, +5°' : `${nameInWords(key)}, +10 %`,
        percentOf(cut),
        percentOf(choke),
      ];
    }),
  );
  return { heads: ['wheel', 'change', 'cut size, %', 'feed at choke, %'], rows };
}
