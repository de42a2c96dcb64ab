import type { Rotor, Wheel } from '../../model/case.ts';
import { formatNumber, formatQuantity, toShown } from '../units/display.ts';
import { childOf, type Node } from './node.ts';
import { type Context, fault, question } from './reading-context.ts';

/** A wheel may be this much wider than the rotor with its gap and still stand above it; wider is no mill. */
const WIDEST_WHEEL = 1.5;
/** Elements thinner along the circumference than a quarter of their face are none: so many overlap. */
const THINNEST_ELEMENT = 0.25;
/** Air flow per installed mill power found in practice, widely [m³/h per kW] (from memory). */
const AIR_PER_POWER = { low: 20, high: 800 } as const;
/** Feed rate per installed mill power found in practice, widely [kg/h per kW]: 2 to 5000 kWh/t (from memory). */
const FEED_PER_POWER = { low: 0.2, high: 500 } as const;
/** Speed a rotor or wheel of steel holds together at, roughly [m/s] (from memory). */
const HIGHEST_TIP = 400;

const millimetres = (size: number) => formatQuantity(size, 'mm');

/** Dimensions of a rotor that do not go together: a gap above its radius, elements that overlap, a maximum speed no rotor holds. */
export function checkRotor(context: Context, node: Node | undefined, path: string, rotor: Rotor): void {
  const { diameter, count, width, gap } = rotor.geometry;
  const geometry = childOf(node, 'geometry');
  const at = (key: string) => childOf(geometry, key);
  if (gap > diameter / 2)
    fault(
      context,
      at('gap'),
      `${path}.geometry.gap`,
      `must be at most the rotor's radius (${millimetres(diameter / 2)}), is ${millimetres(gap)}`,
    );
  const pitch = (Math.PI * diameter) / count;
  if (pitch < THINNEST_ELEMENT * width)
    fault(
      context,
      at('count'),
      `${path}.geometry.count`,
      `${formatNumber(count)} elements of ${millimetres(width)} overlap on a rotor of ${millimetres(diameter)}: they are ${millimetres(pitch)} apart; use fewer or narrower elements`,
    );
  const tip = Math.PI * diameter * rotor.maxSpeed;
  if (tip > HIGHEST_TIP)
    fault(
      context,
      childOf(node, 'maxSpeed'),
      `${path}.maxSpeed`,
      `must be at most ${HIGHEST_TIP} m/s at the rotor tip, is ${formatNumber(tip)} m/s (${formatQuantity(rotor.maxSpeed, 'rpm')} at ${millimetres(diameter)})`,
    );
}

/** Wheels that do not go with the rotor: wider than the mill; a maximum speed no wheel holds. */
export function checkWheels(
  context: Context,
  node: Node | undefined,
  wheels: Readonly<Record<string, Wheel>>,
  rotor: Rotor,
): void {
  const mill = rotor.geometry.diameter + 2 * rotor.geometry.gap;
  for (const [name, { geometry, maxSpeed }] of Object.entries(wheels)) {
    const path = `machine.wheels.${name}`;
    const own = childOf(node, name);
    const size = childOf(childOf(own, 'geometry'), 'diameter');
    const found = `is ${millimetres(geometry.diameter)} in a mill of ${millimetres(mill)} (rotor and gap)`;
    if (geometry.diameter > WIDEST_WHEEL * mill)
      fault(context, size, `${path}.geometry.diameter`, `must fit into the mill, ${found}`);
    else if (geometry.diameter > mill)
      question(context, size, `${path}.geometry.diameter`, `${found}: wider than the mill`);
    const rim = Math.PI * geometry.diameter * maxSpeed;
    if (rim > HIGHEST_TIP)
      fault(
        context,
        childOf(own, 'maxSpeed'),
        `${path}.maxSpeed`,
        `must be at most ${HIGHEST_TIP} m/s at the wheel rim, is ${formatNumber(rim)} m/s`,
      );
  }
}

/** An air flow far from what a mill of this power takes. */
export function checkAirPerPower(context: Context, air: Node | undefined, flow: number, power: number): void {
  const ratio = toShown(flow, 'm^3/h') / toShown(power, 'kW');
  if (!(ratio < AIR_PER_POWER.low || ratio > AIR_PER_POWER.high)) return;
  question(
    context,
    childOf(air, 'flow'),
    'air.flow',
    `${formatQuantity(flow, 'm^3/h')} for a mill motor of ${formatQuantity(power, 'kW')} is ${formatNumber(ratio, 3)} m³/h per kW; usual are ${AIR_PER_POWER.low} to ${AIR_PER_POWER.high}`,
  );
}

/** A feed rate far from what a mill of this power grinds. */
export function checkFeedPerPower(
  context: Context,
  node: Node | undefined,
  feedRate: number,
  power: number,
): void {
  const ratio = toShown(feedRate, 'kg/h') / toShown(power, 'kW');
  if (!(ratio < FEED_PER_POWER.low || ratio > FEED_PER_POWER.high)) return;
  question(
    context,
    node,
    'settings.feedRate',
    `${formatQuantity(feedRate, 'kg/h')} for a mill motor of ${formatQuantity(power, 'kW')} is ${formatNumber(ratio, 3)} kg/h per kW; usual are ${FEED_PER_POWER.low} to ${FEED_PER_POWER.high}`,
  );
}
