/** Uniform numbers in 0 … 1 from a seed: a 32-bit counter through a mixing function. */
export function uniformNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 4294967296;
  };
}

/** Standard normal numbers from uniform ones (Box–Muller). */
export function normalNumbers(uniform: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/**
 * First-order autoregressive noise with standard deviation σ and correlation time τ_c, updated exactly (eq. 27b):
 * x ← φ x + σ √(1 − φ²) ξ, φ = e^{−Δt/τ_c}; white where τ_c is zero.
 *
 * @param normal source of standard normal numbers
 * @returns next value for a step Δt [s]
 */
export function autoregressive(
  deviation: number,
  correlationTime: number,
  normal: () => number,
): (step: number) => number {
  let value = deviation * normal();
  return (step) => {
    const kept = correlationTime > 0 ? Math.exp(-step / correlationTime) : 0;
    value = kept * value + deviation * Math.sqrt(1 - kept * kept) * normal();
    return value;
  };
}

/** First-order lag updated exactly over a step with constant input: y ← u + (y − u) e^{−Δt/τ} (eq. 27a). */
export function lagged(value: number, input: number, step: number, lag: number): number {
  return lag > 0 ? input + (value - input) * Math.exp(-step / lag) : input;
}
