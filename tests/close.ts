import { expect } from 'vitest';

/** Asserts |value/wanted − 1| ≤ tolerance; an exact zero is asserted to 1e-300. */
export function close(value: number, wanted: number, tolerance: number): void {
  if (wanted === 0) {
    expect(Math.abs(value)).toBeLessThan(1e-300);
    return;
  }
  const error = Math.abs(value / wanted - 1);
  expect(error, `${value} against ${wanted}`).toBeLessThanOrEqual(tolerance);
}
