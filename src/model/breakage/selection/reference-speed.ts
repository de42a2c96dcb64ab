/** Factor of speed over which growth with its square is taken without a word (`assumed`). */
const FACTOR = 2;

/**
 * Warning of laws stated at one speed and carried to others by v²: none within a factor of two.
 *
 * @param reference, speed [m/s]
 */
export function farFromReference(reference: number, speed: number): string[] {
  if (speed <= FACTOR * reference && speed >= reference / FACTOR) return [];
  return [
    `impact at ${speed.toFixed(0)} m/s is far from the ${reference.toFixed(0)} m/s the law is stated at; its growth with the square of the speed is assumed`,
  ];
}
