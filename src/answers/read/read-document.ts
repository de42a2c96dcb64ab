import { percentileOf } from '../../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
import { REPEATABILITY_SOURCE } from '../../scenario/measurement/repeatability.ts';
import type { Averaged } from '../../scenario/measurement/replicates.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { type SampleSummary, summarise } from '../../trials/summary.ts';
import { type AnswerDocument, type AnswerTable, columns, type Section } from '../document.ts';
import { listed } from '../join-words.ts';
import { type NamedReading, type ReadExports, readKeys, shareSymbol } from './read-keys.ts';

/** Relative difference from what the file states of itself that is worth a line. */
const STATED_NOTE = 1e-3;

const short = (value: number) => formatNumber(value, 4);
const micro = (size: number) => short(size * 1e6);

/** What analyser or sieve exports say, before anything uses it. */
export function readDocument(read: ReadExports): AnswerDocument {
  const { readings, samples, averaged, density } = read;
  const shown = averaged
    ? [...samples, { ...averaged.sample, name: `mean of ${averaged.repeats}` }]
    : samples;
  return {
    command: 'read',
    found: true,
    title: listed(readings.map(({ file }) => file)),
    answer: samples.map(({ name, understood }) => `${name}: ${understood}.`.replace(/\.\.$/, '.')),
    sections: [
      { id: 'percentiles', heading: 'Percentiles', tables: [percentileTable(shown, density)] },
      ...remarksSection(samples),
      ...(averaged ? [{ id: 'repeats', heading: 'Repeats', sentences: scatterSentences(averaged) }] : []),
      { id: 'files', heading: 'How the files were read', sentences: readings.flatMap(fileSentences) },
    ],
    notes: [],
    cautions: [],
    keys: readKeys(read),
  };
}

function percentileTable(samples: readonly MeasuredSample[], density: number | undefined): AnswerTable {
  const summaries = samples.map((sample) => ({ name: sample.name, summary: summarise(sample) }));
  const surface = density ? 'surface, m²/kg' : 'surface, m²/cm³';
  const sizes = summaries[0]?.summary.percentiles.map(({ share }) => `${shareSymbol(share)}, µm`) ?? [];
  return {
    columns: columns('sample', ...sizes, 'span', 'd32, µm', 'd43, µm', surface),
    rows: summaries.map(({ name, summary }) => [name, ...summaryCells(summary, density)]),
  };
}

function summaryCells(summary: SampleSummary, density: number | undefined): string[] {
  const surface = density ? summary.volumeSurface / density : summary.volumeSurface * 1e-6;
  return [
    ...summary.percentiles.map(({ size }) => micro(size)),
    short(summary.span),
    micro(summary.sauter),
    micro(summary.massMean),
    short(surface),
  ];
}

function remarksSection(samples: readonly MeasuredSample[]): Section[] {
  const sentences = samples.flatMap((sample) =>
    [...sample.remarks, ...statedSentences(sample)].map((remark) => `! ${sample.name}: ${remark}`),
  );
  return sentences.length > 0 ? [{ id: 'remarks', heading: 'To look at', sentences }] : [];
}

/** What the file states of itself, where it is not what its table gives. */
export function statedSentences(sample: MeasuredSample): string[] {
  return sample.stated.flatMap(({ size, undersize }) => {
    const found = percentileOf(sample, undersize);
    const off = found / size - 1;
    if (!Number.isFinite(off) || Math.abs(off) <= STATED_NOTE) return [];
    return [
      `the file states ${shareSymbol(undersize)} ${micro(size)} µm; its table gives ${micro(found)} µm (${short(100 * off)} %)`,
    ];
  });
}

/** How repeats scatter, size by size, and whether that is accepted. */
export function scatterSentences({ scatter, repeats }: Averaged): string[] {
  if (repeats < 2) return ['One sample: there is no scatter to show.'];
  return scatter.map(
    ({ share, variation, limit, accepted }) =>
      `${shareSymbol(share)}: repeats scatter by ${short(100 * variation)} % (limit ${short(100 * limit)} %, ${accepted ? 'accepted' : 'NOT accepted'}; ${REPEATABILITY_SOURCE}).`,
  );
}

function fileSentences({ file, reading }: NamedReading): string[] {
  return [
    `${file}: ${reading.encoding}, ${reading.separator} between cells, decimal ${reading.decimal}.`,
    ...reading.unread.map((text) => `! not read: ${text}`),
  ];
}
