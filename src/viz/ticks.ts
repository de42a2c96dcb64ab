import { linearTicks } from '../answers/contour-levels.ts';
import type { Axis } from './drawing.ts';

/** 1, 2 and 5 times powers of ten, thinned to powers where they crowd. */
function logTicks(from: number, to: number, count: number): number[] {
  const [low, high] = from < to ? [from, to] : [to, from];
  const decades = Math.log10(high / low);
  const within = decades * 3 <= count * 1.3 ? [1, 2, 5] : decades * 2 <= count * 1.3 ? [1, 3] : [1];
  const ticks: number[] = [];
  for (let power = Math.floor(Math.log10(low)); power <= Math.log10(high); power++) {
    for (const each of within) {
      const at = each * 10 ** power;
      if (at >= low * (1 - 1e-9) && at <= high * (1 + 1e-9)) ticks.push(at);
    }
  }
  return ticks.length >= 2 ? ticks : linearTicks(low, high, count);
}

/** A number of an axis, no longer than needed to tell it from its neighbours. */
export function tickText(value: number): string {
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size >= 1e6 || size < 1e-4) return value.toExponential(0).replace('e+', 'e').replace('-', '−');
  return String(Number(value.toPrecision(6))).replace('-', '−');
}

/** An axis with round ticks. */
export function axis(
  title: string,
  scale: 'linear' | 'log',
  range: readonly [number, number],
  options: {
    readonly ticks?: number;
    readonly grid?: boolean;
    readonly text?: (value: number) => string;
  } = {},
): Axis {
  const { ticks = 5, grid = true, text = tickText } = options;
  const at = scale === 'log' ? logTicks(range[0], range[1], ticks) : linearTicks(range[0], range[1], ticks);
  return { title, scale, range, grid, ticks: at.map((value) => ({ at: value, text: text(value) })) };
}

/** A range that holds all finite values with a little air, and zero where `zero` asks for it. */
export function spanOf(
  values: Iterable<number>,
  {
    air = 0.05,
    zero = false,
    scale = 'linear',
  }: { air?: number; zero?: boolean; scale?: 'linear' | 'log' } = {},
): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (!Number.isFinite(value) || (scale === 'log' && value <= 0)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (low > high) return scale === 'log' ? [1, 10] : [0, 1];
  if (scale === 'log') {
    const reach = Math.max(1.05, high / low) ** air;
    return [low / reach, high * reach];
  }
  if (zero) [low, high] = [Math.min(0, low), Math.max(0, high)];
  const room = high > low ? (high - low) * air : Math.abs(high) * 0.1 || 1;
  return [zero && low === 0 ? 0 : low - room, zero && high === 0 ? 0 : high + room];
}
