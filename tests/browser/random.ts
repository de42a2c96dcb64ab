/** A small generator with a fixed seed (`recalled`: Lehmer, 48271 mod 2³¹ − 1). */
export function uniform(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
