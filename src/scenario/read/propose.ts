import { airViscosity } from '../../model/air.ts';
import type { Expression } from '../expression/expression.ts';
import type { Scenario, Speed } from '../scenario.ts';
import { formatQuantity } from '../units/display.ts';
import type { Context } from './context.ts';
import { enterSpeed, type Surroundings } from './settings.ts';

/** Share of the rotor's highest speed proposed where the file gives none. */
const ROTOR_SHARE = 0.8;
/** Share of the wheel's highest speed proposed where the spec names no size. */
const WHEEL_SHARE = 0.5;
/** Stokes cut over the size the spec names: the product's top lies above the cut by about the wheel's sharpness. */
const CUT_SHARE = 0.8;
/** A proposed wheel speed stays within these shares of its highest. */
const WHEEL_RANGE = [0.05, 0.95] as const;

/**
 * A speed for a setting the file leaves out. Rotor: 80 % of its highest speed. Wheel: the speed whose Stokes cut at the
 * inlet air is 0.8 of the finest size the spec names (x_c = √(18 µ v_r R/(ρ_p v_φ²)) solved for v_φ ≈ ωR), else half of its
 * highest speed. A start, not an answer: `find` looks for better.
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

function proposeRotor(machine: Scenario['machine']): { value: number; why: string } {
  return { value: ROTOR_SHARE * machine.rotor.maxSpeed, why: `${100 * ROTOR_SHARE} % of its highest speed` };
}

function proposeWheel(
  name: string,
  { machine, components, air, spec }: Surroundings,
): { value: number; why: string } {
  const wheel = machine.wheels[name];
  if (!wheel) return { value: Number.NaN, why: '' };
  const size = Math.min(...spec.flatMap(({ left, right }) => [...sizesIn(left), ...sizesIn(right)]));
  const half = { value: WHEEL_SHARE * wheel.maxSpeed, why: `${100 * WHEEL_SHARE} % of its highest speed` };
  if (!Number.isFinite(size)) return half;
  const { diameter, height, vanes, thickness, lean, openArea } = wheel.geometry;
  const rim = Math.PI * diameter;
  const area =
    height * (openArea === undefined ? rim - (vanes * thickness) / Math.cos(lean) : rim * openArea);
  const radial = (wheel.coefficients.radialFactor * air.flow) / area;
  const density = components[0]?.material.density ?? Number.NaN;
  const cut = CUT_SHARE * size;
  const swirl = Math.sqrt(
    (18 * airViscosity(air.temperature) * radial * (diameter / 2)) / (density * cut * cut),
  );
  const [least, most] = WHEEL_RANGE.map((share) => share * wheel.maxSpeed) as [number, number];
  const value = Math.min(most, Math.max(least, swirl / rim));
  return {
    value,
    why: `a Stokes cut of ${formatQuantity(cut, 'um', 3)}, ${CUT_SHARE} of the size in the spec`,
  };
}

/** Sizes a spec names: arguments such as passing(75 um), and limits of percentiles. */
function sizesIn(expression: Expression): number[] {
  switch (expression.kind) {
    case 'number':
      return [];
    case 'quantity':
      return expression.argument !== undefined ? [expression.argument] : [];
    case 'negate':
      return sizesIn(expression.of);
    case 'binary':
      return [...sizesIn(expression.left), ...sizesIn(expression.right)];
  }
}
