/**
 * Energy of another size reduction by Rittinger's law: proportional to new surface, E ∝ 1/x₂ − 1/x₁ (eq. 23a; `published`, any
 * textbook of unit operations). Brackets a guess from one known job together with `kickEnergy`.
 *
 * @param known energy of the known job [J/kg], from size `knownFrom` to `knownTo` [m]
 * @param from, to sizes of the job asked [m]
 * @returns [J/kg]
 * @example rittingerEnergy(13000, 0.05, 0.01, 0.075, 0.025) // 4333
 */
export function rittingerEnergy(
  known: number,
  knownFrom: number,
  knownTo: number,
  from: number,
  to: number,
): number {
  return (known * (1 / to - 1 / from)) / (1 / knownTo - 1 / knownFrom);
}

/**
 * Energy of another size reduction by Kick's law: proportional to the logarithm of the ratio, E ∝ ln(x₁/x₂) (eq. 23a; `published`).
 *
 * @example kickEnergy(13000, 0.05, 0.01, 0.075, 0.025) // 8874
 */
export function kickEnergy(
  known: number,
  knownFrom: number,
  knownTo: number,
  from: number,
  to: number,
): number {
  return (known * Math.log(from / to)) / Math.log(knownFrom / knownTo);
}
