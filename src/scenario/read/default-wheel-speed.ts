import { airViscosity, inletAir, meanFreePath } from '../../model/air.ts';
import { dragCoefficient, dragShape, slipCorrection } from '../../model/drag.ts';
import { rimFlow, swirlFactor } from '../../model/wheel/wheel-flow.ts';
import type { Expression, Requirement } from '../expression/expression.ts';
import type { Scenario, Speed } from '../scenario.ts';
import { formatQuantity } from '../units/display.ts';
import type { Context } from './reading-context.ts';
import { enterSpeed } from './speed-setting.ts';

/** What the proposal of speeds may look at. */
export interface Surroundings {
  readonly machine: Scenario['machine'];
  readonly components: Scenario['components'];
  readonly air: Scenario['air'];
  readonly spec: Scenario['spec'];
}

/** Share of the rotor's highest speed proposed where the file gives none. */
const ROTOR_SHARE = 0.8;
/** Share of the wheel's highest speed proposed where the spec names no size. */
const WHEEL_SHARE = 0.5;
/** Cut over the size the spec names: x95 of a product stands at some 1.6 times the cut (model, default sharpness). */
const CUT_SHARE = 0.6;
/** A proposed wheel speed stays within these shares of its highest. */
const WHEEL_RANGE = [0.05, 0.95] as const;

interface Proposal {
  /** [1/s] */
  readonly value: number;
  readonly why: string;
}

/**
 * A speed for a setting the file leaves out. Rotor: 80 % of its highest speed. Wheel: the speed whose cut at the inlet air
 * is 0.6 of the finest size the spec names (eq. 18 solved for v_φ, eq. 17 for ω), else half of its highest speed. A start,
 * not an answer: `find` looks for better.
 */
export function proposeSpeed(
  context: Context,
  name: 'rotorSpeed' | 'wheelSpeed',
  wheel: string,
  around: Surroundings,
): Speed {
  const { value, why } = name === 'rotorSpeed' ? proposeRotor(around.machine) : proposeWheel(wheel, around);
  const speed: Speed = { as: 'shaft', value };
  if (!Number.isFinite(value)) return speed;
  enterSpeed(context, name, speed, 'rpm', { label: 'assumed', source: `proposed: ${why}` });
  context.warnings.push({
    code: 'proposed',
    message: `settings.${name} is not in the file; ${formatQuantity(value, 'rpm')} is proposed, ${why}`,
  });
  return speed;
}

function proposeRotor(machine: Scenario['machine']): Proposal {
  return { value: ROTOR_SHARE * machine.rotor.maxSpeed, why: `${100 * ROTOR_SHARE} % of its highest speed` };
}

function proposeWheel(name: string, around: Surroundings): Proposal {
  const wheel = around.machine.wheels[name];
  if (!wheel || around.components.length === 0) return { value: Number.NaN, why: '' };
  const size = Math.min(...around.spec.flatMap(sizesAsked));
  if (!Number.isFinite(size)) {
    return { value: WHEEL_SHARE * wheel.maxSpeed, why: `${100 * WHEEL_SHARE} % of its highest speed` };
  }
  const cut = CUT_SHARE * size;
  const [least, most] = WHEEL_RANGE.map((share) => share * wheel.maxSpeed) as [number, number];
  const speed = speedForCut(cut, name, around);
  if (!(speed <= most))
    return { value: most, why: `${100 * WHEEL_RANGE[1]} % of its highest speed: it cuts no finer` };
  const why = `a cut of ${formatQuantity(cut, 'um', 3)}, ${CUT_SHARE} of the finest size in the spec`;
  return { value: Math.max(least, speed), why };
}

/** Wheel speed [1/s] at which a size [m] of the first component is in balance at the rim, in inlet air (eq. 17, 18). */
function speedForCut(cut: number, name: string, { machine, components, air }: Surroundings): number {
  const wheel = machine.wheels[name]!;
  const { density, sphericity } = components[0]!.material;
  const { density: airDensity, massFlow } = inletAir(air);
  const viscosity = airViscosity(air.temperature);
  const size = cut / wheel.coefficients.cutFactor;
  const { radialVelocity } = rimFlow(wheel, 0, massFlow / airDensity);
  const reynolds = (airDensity * radialVelocity * size) / viscosity;
  const drag = 0.75 * dragCoefficient(dragShape(sphericity), reynolds) * airDensity * radialVelocity ** 2;
  const slip = slipCorrection(size, meanFreePath(air.temperature, air.pressure, viscosity));
  const radius = wheel.geometry.diameter / 2;
  const swirl = Math.sqrt((drag * radius) / ((density - airDensity) * size * slip));
  const leaned = wheel.coefficients.leanFactor * radialVelocity * Math.tan(wheel.geometry.lean);
  return (swirl - leaned) / (swirlFactor(wheel) * Math.PI * wheel.geometry.diameter);
}

/** Sizes that a requirement names: passing(75 um), x97 <= 75 um. */
function sizesAsked({ left, right, relation }: Requirement): number[] {
  const upper = relation.startsWith('<') ? [left, right] : [right, left];
  const [small, large] = upper as [Expression, Expression];
  const named = [...argumentsIn(left), ...argumentsIn(right)];
  if (small.kind === 'quantity' && /^x9/.test(small.name) && large.kind === 'number') named.push(large.value);
  return named;
}

function argumentsIn(expression: Expression): number[] {
  switch (expression.kind) {
    case 'number':
      return [];
    case 'quantity':
      return expression.argument === undefined ? [] : [expression.argument];
    case 'negate':
      return argumentsIn(expression.of);
    case 'binary':
      return [...argumentsIn(expression.left), ...argumentsIn(expression.right)];
  }
}
