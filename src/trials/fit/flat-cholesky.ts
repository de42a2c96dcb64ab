/** Lower triangle L, row-major n × n, with C = L Lᵀ; what rounding leaves below zero on the diagonal is raised to a trace. */
export function flatCholesky(covariance: Float64Array, n: number): Float64Array {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      if (i === j) lower[i * n + i] = Math.sqrt(Math.max(sum, TRACE * covariance[i * n + i]!, TINY));
      else lower[i * n + j] = sum / lower[j * n + j]!;
    }
  }
  return lower;
}

const TRACE = 1e-10;
const TINY = 1e-300;

/** L⁻¹ v into `out`. */
export function forwardSolve(lower: Float64Array, n: number, v: ArrayLike<number>, out: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = v[i]!;
    const row = i * n;
    for (let j = 0; j < i; j++) sum -= lower[row + j]! * out[j]!;
    out[i] = sum / lower[row + i]!;
  }
}

/** L v. */
export function lowerTimes(lower: Float64Array, n: number, v: ArrayLike<number>): Float64Array {
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += lower[i * n + j]! * v[j]!;
    out[i] = sum;
  }
  return out;
}

/** Σ ln L_ii. */
export function logDiagonal(lower: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.log(lower[i * n + i]!);
  return sum;
}

/** L⁻ᵀ v by back substitution, into `out`, which may be `v` itself. */
export function backSolve(lower: Float64Array, n: number, v: ArrayLike<number>, out: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    let sum = v[i]!;
    for (let j = i + 1; j < n; j++) sum -= lower[j * n + i]! * out[j]!;
    out[i] = sum / lower[i * n + i]!;
  }
}
