import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildCurve, fillSlopes, sizeAt, undersizeAt } from '../../src/model/psd/curve.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { massMeanSize, moment, sauterMeanSize } from '../../src/model/psd/statistics.ts';
import { close } from '../close.ts';

const SEED = { seed: 20240918 };
const positive = (max: number) => fc.double({ min: 0.01, max, noNaN: true });

/** Sizes with any spacing and any cumulative curve over them, level stretches and jumps included. */
const curves = fc
  .array(fc.tuple(positive(1.5), fc.oneof(fc.constant(0), positive(1))), { minLength: 4, maxLength: 40 })
  .filter((rows) => rows.slice(1).some(([, share]) => share > 0))
  .map((rows) => {
    const whole = rows.slice(1).reduce((sum, [, share]) => sum + share, 0);
    let [logSize, under] = [Math.log(1e-6), 0];
    const points = rows.map(([step, share], i) => {
      if (i > 0) {
        logSize += step;
        under = Math.min(1, under + share / whole);
      }
      return [Math.exp(logSize), under] as const;
    });
    return buildCurve(
      Float64Array.from(points, ([size]) => size),
      Float64Array.from(points, ([, share]) => share),
    );
  });

describe('size curve through any points', () => {
  test('never falls, keeps to its points, and does not overshoot between them', () => {
    fc.assert(
      fc.property(
        curves,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 20 }),
        (curve, spots) => {
          const { edges, undersize } = curve;
          const last = edges.length - 1;
          edges.forEach((edge, i) => {
            expect(Math.abs(undersizeAt(curve, edge) - undersize[i]!)).toBeLessThan(1e-13);
          });
          const sizes = spots.map((t) => edges[0]! * (edges[last]! / edges[0]!) ** t).sort((a, b) => a - b);
          let before = 0;
          for (const size of sizes) {
            const here = undersizeAt(curve, size);
            expect(here).toBeGreaterThanOrEqual(before - 1e-14);
            const i = edges.findLastIndex((edge) => edge <= size);
            expect(here).toBeGreaterThanOrEqual(undersize[i]! - 1e-13);
            expect(here).toBeLessThanOrEqual(undersize[Math.min(last, i + 1)]! + 1e-13);
            before = here;
          }
        },
      ),
      { ...SEED, numRuns: 300 },
    );
  });
  test('percentiles invert it, and rise with the share', () => {
    fc.assert(
      fc.property(curves, positive(0.999), positive(0.999), (curve, one, other) => {
        const [low, high] = [Math.min(one, other), Math.max(one, other)];
        const size = sizeAt(curve, low);
        if (Number.isNaN(size)) {
          expect(low).toBeLessThanOrEqual(Math.max(curve.undersize[1]!, 1 - curve.undersize.at(-1)!));
          return;
        }
        expect(Math.abs(undersizeAt(curve, size) - low)).toBeLessThan(1e-12);
        expect(sizeAt(curve, high)).toBeGreaterThanOrEqual(size * (1 - 1e-12));
      }),
      { ...SEED, numRuns: 500 },
    );
  });
  test('its means lie between its ends, and d32 below d43', () => {
    fc.assert(
      fc.property(curves, (curve) => {
        const [low, high] = [curve.edges[0]!, curve.edges.at(-1)!];
        const mean = massMeanSize(curve);
        expect(mean).toBeGreaterThan(low);
        expect(mean).toBeLessThan(high);
        const sauter = sauterMeanSize(curve);
        if (!Number.isNaN(sauter)) expect(sauter).toBeLessThan(mean * (1 + 1e-12));
        close(moment(curve, 0), 1, 1e-12);
      }),
      { ...SEED, numRuns: 300 },
    );
  });
  test('the slopes written in place on a geometric grid keep it from falling too', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.constant(0), positive(1)), { minLength: 5, maxLength: 60 }),
        (shares) => {
          const grid = buildGrid({
            smallest: 1e-6,
            top: 1e-6 * 2 ** (shares.length / 8),
            classesPerOctave: 8,
          });
          const undersize = new Float64Array(grid.classes + 1);
          for (let i = 0; i < grid.classes; i++) undersize[i + 1] = undersize[i]! + (shares[i] ?? 0);
          const slopes = new Float64Array(grid.classes + 1).fill(Number.NaN);
          fillSlopes(undersize, grid.logRatio, slopes);
          const curve = { edges: grid.edges, undersize, slopes };
          let before = 0;
          for (let i = 0; i <= 10 * grid.classes; i++) {
            const here = undersizeAt(curve, grid.edges[0]! * grid.ratio ** (i / 10));
            expect(here).toBeGreaterThanOrEqual(before - 1e-12 * undersize.at(-1)!);
            before = here;
          }
        },
      ),
      { ...SEED, numRuns: 100 },
    );
  });
});

describe('size grid of any plan', () => {
  test('covers its ends, is geometric, and puts an edge or a middle where asked', () => {
    const plan = fc.record({
      smallest: positive(10),
      octaves: positive(16),
      classesPerOctave: fc.integer({ min: 1, max: 40 }),
      at: positive(1),
      as: fc.constantFrom('edgeAt', 'centreAt', 'neither'),
    });
    fc.assert(
      fc.property(plan, ({ smallest, octaves, classesPerOctave, at, as }) => {
        const top = smallest * 2 ** octaves;
        const size = smallest * 2 ** (octaves * at);
        const asked = as === 'neither' ? {} : { [as]: size };
        const { edges, sizes, classes, ratio, logRatio } = buildGrid({
          smallest,
          top,
          classesPerOctave,
          ...asked,
        });
        expect(edges[0]!).toBeLessThanOrEqual(smallest * (1 + 1e-9));
        expect(edges[classes]!).toBeGreaterThanOrEqual(top * (1 - 1e-9));
        close(Math.log(ratio), logRatio, 1e-13);
        for (let i = 0; i < classes; i++) {
          close(edges[i + 1]! / edges[i]!, ratio, 1e-12);
          close(sizes[i]! ** 2, edges[i]! * edges[i + 1]!, 1e-12);
        }
        const nearest = (values: Float64Array) =>
          Math.min(...values.map((value) => Math.abs(value / size - 1)));
        if (as === 'edgeAt') expect(nearest(edges)).toBeLessThan(1e-14);
        if (as === 'centreAt') expect(nearest(sizes)).toBeLessThan(1e-14);
      }),
      { ...SEED, numRuns: 300 },
    );
  });
});
