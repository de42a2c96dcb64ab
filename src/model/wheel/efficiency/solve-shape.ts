/**
 * Shape parameter of a law that knows κ only implicitly: κ(shape) rises with the shape; bisection to the last digit.
 *
 * @param coarseShare T at z for a shape
 * @param sharpness wanted κ = z25/z75
 * @param low, high shapes that bracket it
 */
export function solveShape(
  coarseShare: (z: number, shape: number) => number,
  sharpness: number,
  low: number,
  high: number,
): number {
  return bisect(
    (shape) => sizeWhere(coarseShare, 0.25, shape) / sizeWhere(coarseShare, 0.75, shape) - sharpness,
    low,
    high,
  );
}

/** z where T(z) reaches a share. */
function sizeWhere(coarseShare: (z: number, shape: number) => number, share: number, shape: number): number {
  return Math.exp(bisect((logZ) => coarseShare(Math.exp(logZ), shape) - share, -30, 10));
}

function bisect(rising: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let step = 0; step < 100; step++) {
    const middle = (a + b) / 2;
    if (middle === a || middle === b) break;
    if (rising(middle) > 0) b = middle;
    else a = middle;
  }
  return (a + b) / 2;
}
