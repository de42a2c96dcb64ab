import { describe, expect, it } from 'vitest';
import type { MeasuredSample } from '../../../src/scenario/measurement/measured-sample.ts';
import { cutFromSplit, fitGrade, gradePoints } from '../../../src/trials/grade/efficiency.ts';
import { splitOf } from '../../../src/trials/grade/split.ts';
import { wheelEntry } from '../../../src/trials/grade/wheel-entry.ts';
import { close } from '../../close.ts';

const rrsb = (size: number): number => 1 - Math.exp(-((size / 50e-6) ** 1.2));
/** 1 − T by the given form, without a bypass. */
const logistic = (size: number): number => 1 / (1 + (size / 20e-6) ** ((2 * Math.log(3)) / Math.log(2)));
const rosin = (size: number, cut: number, sharpness: number): number =>
  Math.exp(-Math.LN2 * (size / cut) ** (1.5725336 / Math.log(1 / sharpness)));

/** Feed RRSB(50 µm, 1.2) sorted on a fine grid; what reaches the fines is (1 − τ)(1 − T). */
function sorted(toFines: (size: number) => number) {
  const edges = Array.from({ length: 241 }, (_, i) => 0.1e-6 * 2 ** (i / 16));
  let fines = 0;
  let coarse = 0;
  const rows = edges.map((edge, i) => {
    const lower = edges[i - 1] ?? 0;
    const middle = lower > 0 ? Math.sqrt(lower * edge) : edge;
    const share = rrsb(edge) - rrsb(lower);
    fines += share * toFines(middle);
    coarse += share * (1 - toFines(middle));
    return { edge, fines, coarse };
  });
  const curve = (of: (row: (typeof rows)[number]) => number, name: string): MeasuredSample => ({
    name,
    kind: 'curve',
    method: 'laser',
    basis: 'volume',
    understood: '',
    remarks: [],
    stated: [],
    points: rows.map((row) => ({ size: row.edge, undersize: of(row) })),
  });
  const fed = rrsb(edges[240]!);
  return {
    finesYield: fines / fed,
    feed: curve((row) => (row.fines + row.coarse) / fed, 'feed'),
    fines: curve((row) => row.fines / fines, 'fines'),
    coarse: curve((row) => row.coarse / coarse, 'coarse'),
  };
}

describe('grade efficiency from three curves', () => {
  it('finds yield, cut, sharpness and bypass it was made with', () => {
    const made = sorted((size) => 0.95 * rosin(size, 20e-6, 0.6));
    const split = splitOf(made.feed, made.fines, made.coarse);
    if (typeof split === 'string') throw new Error(split);
    close(split.finesYield, made.finesYield, 1e-6);
    expect(split.closes).toBe(true);
    const fit = fitGrade(gradePoints(split))!;
    close(fit.cutSize, 20e-6, 2e-3);
    close(fit.sharpness, 0.6, 2e-3);
    close(fit.bypass, 0.05, 1e-2);
    expect(wheelEntry(fit)).toContain('sharpness: 0.6');
  });

  it('yield of a logistic split of κ 0.5 at 20 µm (derived: 0.3140984)', () => {
    const made = sorted(logistic);
    const split = splitOf(made.feed, made.fines, made.coarse);
    if (typeof split === 'string') throw new Error(split);
    close(split.finesYield, 0.3140984, 1e-3);
  });

  it('the cut from mass split and feed curve alone comes within 10 % (Plitt & Kawatra 1979)', () => {
    close(cutFromSplit(rrsb, [0.1e-6, 500e-6], 0.3140984), 20e-6, 0.1);
    const made = sorted((size) => rosin(size, 20e-6, 0.6));
    close(cutFromSplit(rrsb, [0.1e-6, 3000e-6], made.finesYield, 0.6), 20e-6, 2e-3);
  });

  it('says where curves do not close or do not belong together', () => {
    const made = sorted(logistic);
    const split = splitOf(made.feed, made.fines, made.coarse, made.finesYield + 0.1);
    expect(typeof split === 'string' || split.closes).toBe(false);
    expect(splitOf(made.coarse, made.coarse, made.coarse)).toContain('same curve');
    expect(splitOf(made.fines, made.feed, made.coarse)).toContain('do not belong together');
  });
});
