import type { Fault } from '../errors.ts';
import { percentileOf } from './measured-curve.ts';
import type { MeasuredSample, SizePoint } from './measured-sample.ts';
import { type Question, question } from './reading-questions.ts';
import { percent } from './value-row.ts';

/** Coarsest size any measurement may hold [m]: beyond it lies a slip of unit or of the decimal sign. */
const COARSEST = 10;
/** Sizes a method can see [m], with room: laser diffraction 10 nm to 10 mm or so, sieves 5 µm to 125 mm (common practice). */
const RANGE = {
  laser: { name: 'laser diffraction', low: 1e-9, median: 1e-8, high: 2e-2 },
  sieve: { name: 'sieves', low: 3e-6, median: 3e-6, high: 0.5 },
} as const;
/** A percentile stated by the file against the one of its table: beyond this factor the units differ. */
const FACTOR_OF_TEN = 5;

/** Sizes that no measurement of this kind holds, or that the file itself contradicts by a power of ten. */
export function implausible(sample: MeasuredSample, place: string): (Fault | Question)[] {
  const top = sample.points[sample.points.length - 1]!.size;
  const of = sample.name ? ` (${sample.name})` : '';
  if (!(top <= COARSEST) || sample.points.some(({ size }) => !(size >= 0)))
    return [
      {
        place,
        message: `must hold sizes up to ${COARSEST} m, has ${top.toPrecision(3)} m${of}; check --unit and --decimal`,
      },
    ];
  const stated = sample.stated.find((one) => offByTen(sample, one));
  if (stated) {
    const found = percentileOf(sample, stated.undersize);
    const what = `the file states x${percent(stated.undersize)} ${micrometres(stated.size)} µm, its table gives ${micrometres(found)} µm${of}: the unit of one of them is wrong`;
    return [question(place, what, 'unit')];
  }
  const range = sample.method && RANGE[sample.method];
  if (!range) return [];
  const finest = sample.method === 'sieve' ? top : percentileOf(sample, 0.9);
  if (top > range.high || finest < range.median)
    return [
      question(
        place,
        `sizes from ${micrometres(sample.points[0]!.size)} to ${micrometres(top)} µm${of} cannot come from ${range.name}`,
        'unit',
      ),
    ];
  return [];
}

function offByTen(sample: MeasuredSample, { size, undersize }: SizePoint): boolean {
  const ratio = percentileOf(sample, undersize) / size;
  return ratio > FACTOR_OF_TEN || ratio < 1 / FACTOR_OF_TEN;
}

function micrometres(size: number): string {
  return Number((size * 1e6).toPrecision(4)).toString();
}
