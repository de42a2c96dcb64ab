import type { Evaluated } from './density.ts';

/** The window of an autocorrelation time reaches over so many of it (`recalled`: Sokal 1997). */
const WINDOW = 5;

/**
 * Effective number of draws of an ensemble, W T/τ with τ = 1 + 2 Σ ρ(t), ρ the autocorrelation of single walkers averaged over
 * them: that of the coefficient with the longest τ.
 *
 * @param places sweep by sweep, walker by walker
 * @param walkers W
 */
export function effectiveDraws(
  places: readonly { readonly point: Pick<Evaluated, 'coordinates'> }[],
  walkers: number,
): number {
  const sweeps = places.length / walkers;
  const d = places[0]!.point.coordinates.length;
  let worst = 1;
  for (let i = 0; i < d; i++) {
    const values = Float64Array.from(places, ({ point }) => point.coordinates[i]!);
    worst = Math.max(worst, correlationTime(values, walkers, sweeps));
  }
  return places.length / worst;
}

/** τ of one number along the sweeps. */
export function correlationTime(values: Float64Array, walkers: number, sweeps: number): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const at = (lag: number): number => {
    let sum = 0;
    for (let t = 0; t + lag < sweeps; t++) {
      for (let w = 0; w < walkers; w++)
        sum += (values[t * walkers + w]! - mean) * (values[(t + lag) * walkers + w]! - mean);
    }
    return sum / ((sweeps - lag) * walkers);
  };
  const variance = at(0);
  if (!(variance > 0)) return 1;
  let time = 1;
  for (let lag = 1; lag < sweeps / 2; lag++) {
    time += (2 * at(lag)) / variance;
    if (lag >= WINDOW * time) break;
  }
  return Math.max(1, time);
}
