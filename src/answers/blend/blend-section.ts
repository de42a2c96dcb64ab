import { sizeAt } from '../../model/psd/curve.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { formatNumber, formatQuantity, toShown } from '../../scenario/units/display.ts';
import { type AnswerTable, columns, type Section } from '../document.ts';
import { label } from '../text.ts';
import { nameInWords } from '../words.ts';
import type { BlendAnswer, RatioEffect } from './blend-answer.ts';

/** What a blend is, what the minor components do, and what the ratio of two feeders does, as a part of an answer. */
export function blendSection(answer: BlendAnswer): Section {
  return {
    id: 'blend',
    heading: 'The blend, component by component',
    sentences: [...effectSentences(answer), ratioSentence(answer), ...BLEND_CAUTIONS],
    tables: [partTable(answer), ...(answer.alone ? [withoutTable(answer)] : []), ratioTable(answer)],
  };
}

/** What no component is predicted to do to another, and what to test for it. */
export const BLEND_CAUTIONS: readonly string[] = [
  'The components share the air, the load of the mill and its heat; each breaks and is cut as it does alone. What a flow agent does to breakage, sticking, dispersion or caking is not predicted: run with and without it, and store samples of both.',
  'The dust of a blend is not that of its parts: test the dust of the blend itself.',
];

function partTable({ parts }: BlendAnswer): AnswerTable {
  const percent = (share: number) => formatNumber(100 * share, 3);
  const micron = (size: number) => formatNumber(size * 1e6, 3);
  return {
    columns: columns(
      'component',
      'of the feed, %',
      'of the product, %',
      'of what circulates, %',
      'cut, µm',
      'x50 in the product, µm',
      'x95 in the product, µm',
    ),
    rows: parts.map(({ name, fed, product, circulating, cut, curve }) => [
      label(name),
      percent(fed),
      percent(product),
      percent(circulating),
      micron(cut),
      micron(sizeAt(curve, 0.5)),
      micron(sizeAt(curve, 0.95)),
    ]),
  };
}

/** Numbers a blend and its main component alone are compared by. */
const COMPARED = ['x50', 'x95', 'specificEnergy', 'motorLoad', 'outletTemperature', 'holdup'] as const;

function withoutTable({ blend, alone, main }: BlendAnswer): AnswerTable {
  const rows = COMPARED.map((name) => {
    const { of, shownIn } = quantityNamed(name)!;
    const [a, b] = [blend, alone!].map((point) => of(point));
    return [nameInWords(name), shown(b!, shownIn), shown(a!, shownIn), change(b!, a!, shownIn)];
  });
  return {
    caption: `At the same settings and feed rate, with ${label(main)} alone and as blended`,
    columns: columns('', `${label(main)} alone`, 'the blend', 'difference'),
    rows,
  };
}

function shown(value: number, unit: string): string {
  return formatQuantity(value, unit, 3);
}

/** A temperature changes by kelvin, everything else by a share. */
function change(from: number, to: number, unit: string): string {
  const [size, sign] = unit === 'degC' ? [to - from, 'K'] : [100 * (to / from - 1), '%'];
  const number = Math.abs(size) < 0.005 ? '0' : formatNumber(size, 2).replace('-', '−');
  return `${number} ${sign}`;
}

/** What the minor components do to size and energy, by the model alone. */
function effectSentences({ blend, alone, main }: BlendAnswer): string[] {
  if (!alone) return [`${label(main)} alone chokes at these settings and this feed rate.`];
  const of = (name: string, point: Solved) => quantityNamed(name)!.of(point);
  const moved = (name: string, more: string, less: string): string => {
    const percent = 100 * (of(name, blend) / of(name, alone) - 1);
    if (Math.abs(percent) < LEAST) return 'no change';
    return `${formatNumber(Math.abs(percent), 2)} % ${percent > 0 ? more : less}`;
  };
  return [
    `Against ${label(main)} alone at the same settings and feed rate: x50 ${moved('x50', 'coarser', 'finer')}, x95 ${moved('x95', 'coarser', 'finer')}, energy per tonne ${moved('specificEnergy', 'more', 'less')}. This comes from the shares of product and load alone.`,
  ];
}

/** Changes below this are no change [%]. */
const LEAST = 0.05;

function ratioSentence({ parts, ratio }: BlendAnswer): string {
  const { feeders, stated, share, deviation } = ratio;
  const percent = (value: number) => `${formatNumber(100 * value, 2)} %`;
  const [first, rest] = feeders;
  const errors = stated
    ? `The two feeders vary by ${percent(first)} and ${percent(rest)} of their rates`
    : `With two feeders that each vary by ${percent(first)} of their rates (assumed; give plant.feeder and plant.secondFeeder)`;
  return `${errors}${stated ? ': the' : ', the'} share of ${label(parts[0]!.name)} is ${formatNumber(100 * share, 3)} ± ${formatNumber(100 * deviation, 2)} % as fed (one standard deviation, before the mill evens it out; grindloop time says what is left in a sample).`;
}

function ratioTable({ ratio }: BlendAnswer): AnswerTable {
  return {
    caption: 'What that error of the ratio does to the size of the product as fed',
    columns: columns('', 'value', 'one standard deviation'),
    rows: ratio.effects.map((effect) => [effectName(effect), ...effectNumbers(effect)]),
  };
}

/** Deviations below this, in percent or µm, are not written out. */
const SMALLEST = 0.001;

function effectName({ about, at }: RatioEffect): string {
  return about === 'passing' ? `passing ${formatQuantity(at, 'um', 3)}` : `x${Math.round(100 * at)}`;
}

function effectNumbers({ about, value, deviation }: RatioEffect): string[] {
  const [unit, digits] = about === 'passing' ? (['%', 4] as const) : (['um', 4] as const);
  const size = toShown(deviation, unit);
  const number = size < SMALLEST ? `below ${SMALLEST}` : `± ${formatNumber(size, 2)}`;
  return [formatQuantity(value, unit, digits), `${number} ${about === 'passing' ? '%' : 'µm'}`];
}

/** The blend under the keys of `--json`. */
export function blendKeys({ parts, blend, alone, ratio }: BlendAnswer) {
  const x = (point: Solved, name: string) =>
    toShown(quantityNamed(name)!.of(point), quantityNamed(name)!.shownIn);
  const compared = (point: Solved) => ({
    x50_um: x(point, 'x50'),
    x95_um: x(point, 'x95'),
    specific_kWh_per_t: x(point, 'specificEnergy'),
  });
  return {
    components: parts.map(({ name, fed, product, circulating, cut, curve }) => ({
      name,
      ofFeed: fed,
      ofProduct: product,
      ofCirculating: circulating,
      cut_um: cut * 1e6,
      x50_um: sizeAt(curve, 0.5) * 1e6,
      x95_um: sizeAt(curve, 0.95) * 1e6,
    })),
    blend: compared(blend),
    mainAlone: alone ? compared(alone) : null,
    ratio: {
      feeders: ratio.feeders,
      stated: ratio.stated,
      shareOfFirst: ratio.share,
      deviation: ratio.deviation,
      effects: ratio.effects.map(({ about, at, value, deviation }) =>
        about === 'passing'
          ? { passingAt_um: at * 1e6, value, deviation }
          : { share: at, size_um: value * 1e6, deviation_um: deviation * 1e6 },
      ),
    },
  };
}
