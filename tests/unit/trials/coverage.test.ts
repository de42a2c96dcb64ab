import { describe, expect, test } from 'vitest';
import { figuresOf } from '../../bench/campaigns.ts';
import { PERCENTILES, type Score, scoreCampaign } from '../../campaign/score.ts';

/** A few of the campaigns that `npm run campaigns` counts in hundreds. */
const few = (kind: Parameters<typeof scoreCampaign>[0], count: number, seed: number): Score[] =>
  Array.from({ length: count }, (_, k) => scoreCampaign(kind, seed + k));

describe('campaigns with a hidden truth', () => {
  test('one run: true coefficients lie in their 95 % intervals, and half as wide would not hold them', () => {
    const scores = [
      ...few({ method: 'laser', runs: 1 }, 4, 300),
      ...few({ method: 'sieve', runs: 1 }, 3, 400),
    ];
    const share = (of: (score: Score) => readonly number[]): number => {
      const all = scores.flatMap(of);
      return all.reduce((sum, one) => sum + one, 0) / all.length;
    };
    // about a hundred intervals: 95 % less three standard errors of a count; half intervals hold two thirds of normal truths
    expect(share(({ within }) => Object.values(within!))).toBeGreaterThan(0.89);
    expect(share(({ withinHalf }) => Object.values(withinHalf!))).toBeLessThan(0.85);
    const { bands, errors, foretold } = figuresOf(scores);
    bands.forEach((band) => {
      expect(band).toBeGreaterThan(0.85);
    });
    // blind errors are those the fit itself foretells
    PERCENTILES.forEach((_, i) => {
      expect(errors[i]! / foretold[i]!).toBeLessThan(1.6);
    });
    // most come to the 210 asked for; a bent posterior of one run to half of it
    for (const { effective } of scores) expect(effective).toBeGreaterThan(100);
  });

  test('fragments of another law and two stages a pass: bands still hold the truth', () => {
    const figures = figuresOf(
      (['truncated-exponential', 'two-power'] as const).flatMap((other) =>
        few({ method: 'laser', runs: 3, other }, 1, 500),
      ),
    );
    const mean = figures.bands.reduce((sum, band) => sum + band, 0) / figures.bands.length;
    expect(mean).toBeGreaterThanOrEqual(0.85);
    expect(figures.power).toBeGreaterThanOrEqual(0.85);
  });
});
