import { describe, expect, it } from 'vitest';
import type { MeasuredSample } from '../../../src/scenario/measurement/measured-sample.ts';
import { withAnalyserErrors } from '../../../src/trials/grade/analyser-errors.ts';
import { cutFromSplit, fitGrade, gradePoints } from '../../../src/trials/grade/efficiency.ts';
import { splitOf } from '../../../src/trials/grade/split.ts';
import { wheelEntry, withoutLoad } from '../../../src/trials/grade/wheel-entry.ts';
import { close } from '../../close.ts';
import { read } from '../scenario/reading.ts';

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
    expect(wheelEntry(fit)).toMatch(/sharpness: \{ value: 0\.(6|600\d|599\d), label: measured/);
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

describe('what a wheel entry may say', () => {
  const graded = (toFines: (size: number) => number) => {
    const made = sorted(toFines);
    const split = splitOf(made.feed, made.fines, made.coarse);
    if (typeof split === 'string') throw new Error(split);
    const fit = fitGrade(gradePoints(split))!;
    return { made, split, fit };
  };

  it('leakage is found where the curves show it, and not where they do not', () => {
    // 1 − T = ℓ + (1 − ℓ)(1 − τ)(1 − T'), eq. 20
    const leaking = graded((size) => 0.02 + 0.98 * 0.9 * rosin(size, 20e-6, 0.6)).fit;
    close(leaking.leakage, 0.02, 0.05);
    close(leaking.bypass, 0.1, 0.02);
    close(leaking.sharpness, 0.6, 5e-3);
    expect(wheelEntry(leaking)).toMatch(/leakage: \{ value: 0\.0(2|200\d|199\d|19\d\d), label: measured/);
    const tight = graded((size) => 0.9 * rosin(size, 20e-6, 0.6)).fit;
    expect(tight.leakage).toBe(0);
    expect(wheelEntry(tight)).toContain('show no leakage');
  });

  it('the cut of a laser is not known better than the laser, whatever the scatter about the law', () => {
    const { made, split, fit } = graded((size) => 0.95 * rosin(size, 20e-6, 0.6));
    expect(fit.errors.logCut).toBeLessThan(1e-3);
    const { errors } = withAnalyserErrors(fit, made, split, undefined);
    expect(errors.logCut).toBeGreaterThan(0.03);
    expect(errors.logCut).toBeLessThan(0.12);
    expect(errors.sharpness).toBeGreaterThan(0.003);
    expect(errors.bypass).toBeGreaterThan(0.002);
  });

  it('curves that do not close have no errors, and the entry no measured label', () => {
    const { made, split, fit } = graded((size) => 0.95 * rosin(size, 20e-6, 0.6));
    const open = { ...split, closes: false };
    const loose = withAnalyserErrors(fit, made, open, undefined);
    expect(Object.values(loose.errors).every(Number.isNaN)).toBe(true);
    const entry = wheelEntry(loose, { closes: false });
    expect(entry).toContain('label: assumed');
    expect(entry).not.toContain('spread');
    expect(entry).toContain('do not close');
  });

  it('exchanged fines and coarse are refused by name', () => {
    const { made } = graded((size) => 0.95 * rosin(size, 20e-6, 0.6));
    expect(splitOf(made.feed, made.coarse, made.fines)).toMatch(
      /fines \(x50 .*\) are coarser than the coarse .*exchanged/,
    );
  });

  it('a fit at the end of its range is no entry', () => {
    const { fit } = graded((size) => rosin(size, 20e-6, 0.6));
    expect(wheelEntry({ ...fit, atBound: ['sharpness'] })).toBe(
      '# no entry: sharpness ended at the end of the range that is searched; check the three files and the law\n',
    );
    // sharper than the law's end at 0.95
    expect(graded((size) => (size < 20e-6 ? 1 : 0)).fit.atBound).toContain('sharpness');
  });

  it('without load by eq. 20 where the loading is stated, else at the load of the test', () => {
    const { fit } = graded((size) => 0.9 * rosin(size, 20e-6, 0.6));
    // by hand: 0.6 e^(0.03·1.38) = 0.62536, 1 − 0.9 e^(0.02·1.38) = 0.07481
    const bare = withoutLoad({ ...fit, sharpness: 0.6, bypass: 0.1 }, 1.38);
    close(bare.sharpness, 0.62536, 1e-4);
    close(bare.bypass, 0.07481, 1e-3);
    expect(wheelEntry(fit, { loading: 1.38 })).toMatch(/sharpnessLoading: 0\.03[\s\S]*bypassLoading: 0\.02/);
    expect(wheelEntry(fit)).toMatch(/sharpnessLoading: 0\n[\s\S]*bypassLoading: 0\n/);
    expect(wheelEntry(fit)).toContain('at the loading of this test only');
  });

  it('an entry pasted into a wheel is read with its evidence, and gives the sorting measured back', () => {
    const { made, split, fit } = graded((size) => 0.9 * rosin(size, 20e-6, 0.6));
    const graph = withAnalyserErrors(fit, made, split, undefined);
    const entry = wheelEntry(graph, { source: 'a.csv' })
      .split('\n')
      .map((line) => `      ${line}`)
      .join('\n');
    const machine = `\n  from: pilot-300\n  wheels:\n    medium-leaning:\n${entry}`;
    const { machine: read_, provenance } = read({ machine });
    const wheel = read_.wheels['medium-leaning']!;
    close(wheel.coefficients.sharpness, 0.6, 2e-3);
    close(wheel.coefficients.bypass, 0.1, 2e-2);
    expect(wheel.coefficients.sharpnessLoading).toBe(0);
    const evidence = provenance['machine.wheels.medium-leaning.coefficients.sharpness']!;
    expect(evidence).toMatchObject({ label: 'measured', source: 'a.csv' });
    close(evidence.spread!, graph.errors.sharpness / 0.6, 0.05);
  });
});
