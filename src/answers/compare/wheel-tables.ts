import { formatNumber, formatQuantity, labelOf, toShown } from '../../scenario/units/display.ts';
import { type COMPARED, type ComparedName, comparedAt } from '../../search/compare/compared.ts';
import type { Comparison, WheelAtTarget } from '../../search/compare/comparison.ts';
import { type AnswerTable, type Column, columns } from '../document.ts';
import type { Dot, DotsInput } from '../dots.ts';
import { label } from '../text.ts';
import { nameInWords, pageUnit, quantityMeasure } from '../words.ts';
import { type ReachedWheel, rangeText, reachedWheels, rpm, targetUnit, targetWords } from './target-words.ts';

const RUNNING = ['wheelPower', 'pressureLoss', 'feedMargin'] as const;
const ENERGY = ['rotorPower', 'specificEnergy', 'outletTemperature'] as const;
const PRODUCT = ['x10', 'x50', 'x90', 'x99', 'span', 'fines', 'cutSize', 'sharpness', 'bypass'] as const;

/** How each wheel has to run for the target, and what that takes. */
export function runningTable(comparison: Comparison): AnswerTable {
  return {
    columns: [...columns('wheel', 'speed, rpm', 'of its highest, %'), ...RUNNING.map(columnOf)],
    rows: slowestFirst(comparison.wheels).map((wheel) =>
      isReached(wheel)
        ? [
            label(wheel.name),
            rangeText(wheel.matched.speed, wheel.bands.of.speed, 'rpm', 4),
            formatNumber((100 * wheel.matched.speed) / wheel.matched.solved.case.wheel.maxSpeed, 3),
            ...cells(wheel, comparison, RUNNING),
          ]
        : [label(wheel.name), missedText(wheel, comparison), ...Array<string>(RUNNING.length + 1).fill('–')],
    ),
    notes: [BRACKETS],
  };
}

/** What the mill takes behind each wheel at the target. */
export function energyTable(comparison: Comparison): AnswerTable {
  return {
    columns: [{ name: 'wheel' }, ...ENERGY.map(columnOf)],
    rows: slowestFirst(reachedWheels(comparison)).map((wheel) => [
      label(wheel.name),
      ...cells(wheel, comparison, ENERGY),
    ]),
  };
}

/** What each wheel makes at the target. */
export function productsTable(comparison: Comparison): AnswerTable {
  return {
    columns: [
      { name: 'wheel' },
      ...PRODUCT.map((name) => (name === 'fines' ? finesColumn(comparison) : columnOf(name))),
    ],
    rows: slowestFirst(reachedWheels(comparison)).map((wheel) => [
      label(wheel.name),
      ...cells(wheel, comparison, PRODUCT),
    ]),
  };
}

const BRACKETS =
  'In brackets: the range left by a 20 % error of each cut coefficient and by the numbers given as ranges or unknown.';

/** By the speed needed; wheels that do not reach the target last. */
function slowestFirst<Wheel extends WheelAtTarget>(wheels: readonly Wheel[]): Wheel[] {
  const speed = ({ matched }: Wheel) => (matched.reached ? matched.speed : Number.POSITIVE_INFINITY);
  return wheels.toSorted((a, b) => (speed(a) === speed(b) ? 0 : speed(a) - speed(b)));
}

function isReached(wheel: WheelAtTarget): wheel is ReachedWheel {
  return wheel.matched.reached && wheel.bands !== undefined;
}

function missedText({ matched }: WheelAtTarget, { target }: Comparison): string {
  if (matched.reached || Number.isNaN(matched.nearest)) return 'chokes';
  return `not reached: ${formatQuantity(matched.nearest, targetUnit(target), 3)}`;
}

function cells(
  { matched, bands }: ReachedWheel,
  { fines }: Comparison,
  names: readonly ComparedName[],
): string[] {
  const values = comparedAt(matched, fines);
  return names.map((name) => rangeText(values[name], bands.of[name], unitOf(name)));
}

function unitOf(name: ComparedName): string {
  if (name === 'speed') return 'rpm';
  return name === 'fines' ? '%' : pageUnit(name);
}

function columnOf(name: (typeof COMPARED)[number]): Column {
  return { name: nameInWords(name), unit: labelOf(unitOf(name)) };
}

function finesColumn({ fines }: Comparison): Column {
  return { name: `below ${formatQuantity(fines, 'um', 3)}`, unit: '%' };
}

/** Speed needed with its band, and what it takes, wheel by wheel, the slowest first. */
export function wheelDots(comparison: Comparison): DotsInput {
  const order = slowestFirst(reachedWheels(comparison));
  const dots = (name: ComparedName): Dot[] =>
    order.map(({ matched, bands }) => {
      const show = (value: number) => toShown(value, unitOf(name));
      const { low, high } = bands.of[name];
      return {
        value: show(comparedAt(matched, comparison.fines)[name]),
        low: show(low),
        high: Number.isFinite(high) ? show(high) : Number.POSITIVE_INFINITY,
        ...(Number.isFinite(high) || name !== 'speed'
          ? {}
          : { words: `${rpm(matched.speed)} to not reached` }),
      };
    });
  const panel = (name: (typeof RUNNING)[number] | (typeof ENERGY)[number]) => ({
    measure: quantityMeasure(name),
    dots: dots(name),
    fromZero: true,
  });
  return {
    rows: order.map(({ name }) => label(name)),
    panels: [
      { measure: { name: 'wheel speed', unit: 'rpm' }, dots: dots('speed'), fromZero: true },
      ...(['wheelPower', 'rotorPower', 'pressureLoss', 'feedMargin', 'specificEnergy'] as const).map(panel),
    ],
    caption: `What each wheel needs for ${targetWords(comparison)}: wheels whose grey ranges overlap cannot be ranked.`,
  };
}

/** What sharpness, bypass and leakage would be worth if they were better. */
export function worthTable({ worth, fines }: Comparison): AnswerTable | undefined {
  if (!worth || worth.rows.length === 0) return undefined;
  const change = (pair: readonly [number, number] | undefined, factor: number) =>
    pair ? `${formatNumber(pair[0] * factor, 3)} → ${formatNumber(pair[1] * factor, 3)}` : 'not reached';
  return {
    columns: columns(
      'coefficient',
      'from → to',
      `below ${formatQuantity(fines, 'um', 3)}, %`,
      'specific energy, kWh/t',
      'feed margin to choke, %',
    ),
    rows: worth.rows.map(({ coefficient, from, to, fines: share, energy, margin }) => [
      coefficient,
      `${formatNumber(from, 3)} → ${formatNumber(to, 3)}`,
      change(share, 100),
      change(energy, toShown(1, 'kWh/t')),
      change(margin, 100),
    ]),
  };
}

/** What changes of geometry do to the cut or to the feed at choke: a row a change, a column a wheel. */
export function geometryTable(comparison: Comparison, of: 'cut' | 'choke'): AnswerTable {
  const able = reachedWheels(comparison).filter(({ sameAs }) => sameAs === undefined);
  const keys = [...new Set(able.flatMap(({ changes = [] }) => changes.map(({ key }) => key)))];
  const name = {
    diameter: 'diameter, +10 %',
    height: 'height, +10 %',
    vanes: 'vanes, +10 % (whole vanes)',
    thickness: 'thickness, +10 %',
    lean: 'lean, +5°',
  };
  const cell = ({ changes = [] }: ReachedWheel, key: string) => {
    const change = changes.find((each) => each.key === key);
    if (!change) return '–';
    return Number.isNaN(change[of]) ? 'chokes' : signed(change[of]);
  };
  return {
    caption: of === 'cut' ? 'Change of the cut size, %' : 'Change of the feed at choke, %',
    columns: [{ name: 'change' }, ...able.map((wheel) => ({ name: label(wheel.name) }))],
    rows: keys.map((key) => [name[key], ...able.map((wheel) => cell(wheel, key))]),
  };
}

function signed(share: number): string {
  const text = formatNumber(Math.abs(100 * share), 2);
  return text === '0' ? '0' : `${share < 0 ? '−' : '+'}${text}`;
}
