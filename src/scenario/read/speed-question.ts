import { shaftSpeed } from '../operating-point.ts';
import type { Drive, Speed } from '../scenario.ts';
import { formatNumber, formatQuantity, fromShown, toShown } from '../units/display.ts';
import { hasThousandsPoint, meantValue } from './likely-slip.ts';

/** Speeds of rotor tip and wheel rim [m/s]: found in practice (from memory), and possible of any machine. */
const EDGE_SPEEDS = {
  rotor: { edge: 'rotor tip', low: 20, high: 160, least: 0.1, most: 400 },
  wheel: { edge: 'wheel rim', low: 2, high: 100, least: 0.1, most: 300 },
} as const;

type Shaft = keyof typeof EDGE_SPEEDS;

/** Speed of the rim or tip of a diameter [m/s]. */
function edgeSpeed(speed: Speed, diameter: number): number {
  return speed.as === 'rim' ? speed.value : Math.PI * diameter * speed.value;
}

/** Why no machine turns at this speed; undefined where one could. */
export function impossibleSpeed(speed: Speed, diameter: number, shaft: Shaft): string | undefined {
  const { edge, least, most } = EDGE_SPEEDS[shaft];
  const found = edgeSpeed(speed, diameter);
  if (!(found < least || found > most)) return undefined;
  const limit = found < least ? `at least ${least}` : `at most ${most}`;
  return `must be ${limit} m/s at the ${edge}, is ${formatNumber(found)} m/s`;
}

/**
 * Why a speed is questioned: tip or rim are far from what is found in practice, or thousands were written with a point.
 *
 * @param drive of this shaft, where the scenario has one
 */
export function speedQuestion(
  text: string,
  speed: Speed,
  diameter: number,
  shaft: Shaft,
  drive?: Drive,
): string | undefined {
  const { edge, low, high } = EDGE_SPEEDS[shaft];
  const slip = speedSlip(text, speed, diameter, shaft, drive);
  if (!isUsual(speed, diameter, shaft)) {
    const found = `${formatNumber(edgeSpeed(speed, diameter))} m/s at the ${edge} (${formatQuantity(shaftSpeed(speed, diameter), 'rpm')})`;
    return `${found} is outside the usual range, ${low} to ${high} m/s${meantValue(slip)}`;
  }
  return hasThousandsPoint(text) && slip !== undefined
    ? `a point separates decimals here${meantValue(slip)}`
    : undefined;
}

function isUsual(speed: Speed, diameter: number, shaft: Shaft): boolean {
  const found = edgeSpeed(speed, diameter);
  return found >= EDGE_SPEEDS[shaft].low && found <= EDGE_SPEEDS[shaft].high;
}

/** The same number as thousands, or in another unit a speed may have: what was probably meant by an unusual speed. */
export function speedSlip(
  text: string,
  speed: Speed,
  diameter: number,
  shaft: Shaft,
  drive?: Drive,
): string | undefined {
  const fits = (one: Speed) => isUsual(one, diameter, shaft);
  const unit = speed.as === 'shaft' ? 'rpm' : 'm/s';
  const number = toShown(speed.value, unit);
  if (hasThousandsPoint(text) && fits({ ...speed, value: 1000 * speed.value }))
    return `${formatNumber(1000 * number, 6)} ${unit}`;
  const inHertz = drive && (number / drive.frequency) * drive.shaftSpeed;
  const hertz = inHertz === undefined ? [] : [['Hz', { as: 'shaft', value: inHertz }] as const];
  const edge: readonly [string, Speed] = ['m/s', { as: 'rim', value: number }];
  const readings: readonly (readonly [string, Speed])[] = [
    // a rotor is set by its tip speed, a wheel by its drive
    ...(shaft === 'rotor' ? [edge, ...hertz] : [...hertz, edge]),
    ['rpm', { as: 'shaft', value: fromShown(number, 'rpm') }],
  ];
  const found = readings.find(([other, reading]) => other !== unit && fits(reading));
  return found && `${formatNumber(number, 6)} ${found[0]}`;
}
