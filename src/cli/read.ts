import { textTable } from '../answers/text-table.ts';
import { InputError } from '../scenario/errors.ts';
import { percentileOf } from '../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';
import { REPEATABILITY_SOURCE } from '../scenario/measurement/repeatability.ts';
import { type Averaged, averageRepeats } from '../scenario/measurement/replicates.ts';
import { mixedMethods } from '../trials/method.ts';
import { type SampleSummary, summarise } from '../trials/summary.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside } from './number-option.ts';
import { type NamedReading, readAll } from './read-all.ts';
import { readOptions, statedOptions } from './read-options.ts';

const STATED_NOTE = 1e-3;

/** `read FILE…`: what an analyser or sieve export was understood to say. */
export const read: Command = {
  options: (argv) =>
    readOptions(
      argv
        .positional('files', {
          type: 'string',
          array: true,
          demandOption: true,
          describe: 'exports of one material',
        })
        .option('average', {
          type: 'boolean',
          default: false,
          describe: 'samples are repeats: average them, show the scatter',
        })
        .option('sample', {
          type: 'string',
          array: true,
          nargs: 1,
          describe: 'only this sample (repeatable)',
        })
        .option('density', { type: 'number', describe: 'particle density [kg/m³], for the surface per mass' })
        .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' }),
    ),
  run: async (options) => {
    refuseOutside(options, { density: { above: 0, most: 30_000 } });
    const stated = statedOptions(options);
    const files = options.files as string[];
    const readings = await readAll(files, stated);
    const samples = chosen(
      readings.flatMap((one) => one.reading.samples),
      options.sample as string[] | undefined,
    );
    const averaged = options.average ? averageOf(samples, files) : undefined;
    const density = options.density as number | undefined;
    process.stdout.write(
      options.json
        ? asJson(readings, samples, averaged, density)
        : asText(readings, samples, averaged, density),
    );
    return EXIT.done;
  },
};

function chosen(samples: readonly MeasuredSample[], names: readonly string[] | undefined): MeasuredSample[] {
  if (!names) return [...samples];
  const missing = names.filter((name) => !samples.some((sample) => sample.name === name));
  if (missing.length > 0) {
    const known = samples.map((sample) => sample.name).join(', ');
    throw new InputError(
      missing.map((name) => ({ place: '--sample', message: `no sample ${name}; there are ${known}` })),
    );
  }
  return samples.filter((sample) => names.includes(sample.name));
}

function averageOf(samples: readonly MeasuredSample[], files: readonly string[]): Averaged {
  const mixed = mixedMethods(samples);
  const averaged = mixed ?? averageRepeats(samples);
  if (typeof averaged === 'string') throw new InputError([{ place: files.join(', '), message: averaged }]);
  return averaged;
}

function asJson(
  readings: readonly NamedReading[],
  samples: readonly MeasuredSample[],
  averaged: Averaged | undefined,
  density: number | undefined,
): string {
  const body = {
    files: readings.map(({ file, reading }) => ({
      file,
      encoding: reading.encoding,
      separator: reading.separator,
      decimal: reading.decimal,
      unread: reading.unread,
    })),
    samples: samples.map((sample) => sampleJson(sample, density)),
    ...(averaged
      ? {
          average: { ...sampleJson(averaged.sample, density), repeats: averaged.repeats },
          scatter: averaged.scatter.map(({ share, mean, variation, limit, accepted }) => ({
            share,
            mean_um: mean * 1e6,
            variation,
            limit,
            accepted,
            source: REPEATABILITY_SOURCE,
          })),
        }
      : {}),
  };
  return `${JSON.stringify(body, (_, value) => (Number.isNaN(value) ? null : value), 2)}\n`;
}

function sampleJson(sample: MeasuredSample, density: number | undefined) {
  const summary = summarise(sample);
  return {
    name: sample.name,
    kind: sample.kind,
    method: sample.method ?? null,
    basis: sample.basis,
    understood: sample.understood,
    remarks: sample.remarks,
    ...Object.fromEntries(summary.percentiles.map(({ share, size }) => [`${symbol(share)}_um`, size * 1e6])),
    span: summary.span,
    d32_um: summary.sauter * 1e6,
    d43_um: summary.massMean * 1e6,
    surface_m2_per_cm3: summary.volumeSurface * 1e-6,
    ...(density ? { surface_m2_per_kg: summary.volumeSurface / density } : {}),
    size_um: sample.points.map((point) => point.size * 1e6),
    undersize: sample.points.map((point) => point.undersize),
  };
}

function symbol(share: number): string {
  return `x${Number((100 * share).toPrecision(4))}`;
}

function asText(
  readings: readonly NamedReading[],
  samples: readonly MeasuredSample[],
  averaged: Averaged | undefined,
  density: number | undefined,
): string {
  const lines: string[] = [];
  const shown = averaged
    ? [...samples, { ...averaged.sample, name: `mean of ${averaged.repeats}` }]
    : samples;
  lines.push(percentileTable(shown, density), '');
  for (const sample of samples) {
    lines.push(`${sample.name}: ${sample.understood}`, ...sample.remarks.map((remark) => `  ! ${remark}`));
    lines.push(...statedLines(sample));
  }
  if (averaged) lines.push('', ...scatterLines(averaged));
  lines.push('');
  for (const { file, reading } of readings) {
    lines.push(
      `${file}: ${reading.encoding}, ${reading.separator} between cells, decimal ${reading.decimal}`,
    );
    lines.push(...reading.unread.map((text) => `  ! not read: ${text}`));
  }
  return `${lines.join('\n')}\n`;
}

function percentileTable(samples: readonly MeasuredSample[], density: number | undefined): string {
  const summaries = samples.map((sample) => ({ name: sample.name, summary: summarise(sample) }));
  const surface = density ? 'S [m²/kg]' : 'S_V [m²/cm³]';
  const head = [
    '',
    ...summaries[0]!.summary.percentiles.map(({ share }) => `${symbol(share)} [µm]`),
    'span',
    'd32 [µm]',
    'd43 [µm]',
    surface,
  ];
  return textTable([
    head,
    ...summaries.map(({ name, summary }) => [name, ...summaryCells(summary, density)]),
  ]);
}

function summaryCells(summary: SampleSummary, density: number | undefined): string[] {
  const surface = density ? summary.volumeSurface / density : summary.volumeSurface * 1e-6;
  const sizes = [...summary.percentiles.map(({ size }) => size * 1e6)];
  return [...sizes, summary.span, summary.sauter * 1e6, summary.massMean * 1e6, surface].map(digits);
}

function digits(value: number): string {
  return Number.isFinite(value) ? Number(value.toPrecision(4)).toString() : '–';
}

/** What the file states of itself, held against the reading. */
function statedLines(sample: MeasuredSample): string[] {
  return sample.stated.flatMap(({ size, undersize }) => {
    const found = percentileOf(sample, undersize);
    const off = found / size - 1;
    if (!Number.isFinite(off) || Math.abs(off) <= STATED_NOTE) return [];
    return [
      `  ! the file states ${symbol(undersize)} ${digits(size * 1e6)} µm; its table gives ${digits(found * 1e6)} µm (${digits(100 * off)} %)`,
    ];
  });
}

function scatterLines({ scatter, repeats }: Averaged): string[] {
  if (repeats < 2) return ['one sample: no scatter to show'];
  return scatter.map(
    ({ share, variation, limit, accepted }) =>
      `${symbol(share)}: repeats scatter by ${digits(100 * variation)} % (limit ${digits(100 * limit)} %, ${accepted ? 'accepted' : 'NOT accepted'}; ${REPEATABILITY_SOURCE})`,
  );
}
