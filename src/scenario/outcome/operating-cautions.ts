import { saturationPressure } from '../../model/air.ts';
import { SELECTION_LAWS } from '../../model/breakage/selection/index.ts';
import type { Case } from '../../model/case.ts';
import type { State } from '../../model/loop/state.ts';
import { bracket } from '../../model/numerics/root.ts';
import type { Warning } from '../../model/parameters.ts';
import { FEED_LAWS } from '../../model/psd/feed/index.ts';
import { normalEnergyShare, tipSpeed } from '../../model/rotor.ts';
import { formatNumber, formatQuantity } from '../units/display.ts';
import type { Point } from './solved.ts';

/** Outlet air hotter than this, or warmed by more, is outside anything these coefficients were meant for (`assumed`). */
const HOT = 353.15;
const LARGEST_RISE = 60;
/** Inflow at the rim of a deflector wheel above which no sharp cut is expected [m/s] (`practice`). */
const FASTEST_INFLOW = 20;

/**
 * Conditions under which the result is computed but should not be relied on, or the machine not run (eq. 25a): hits too
 * weak for what the wheel holds back, heat, steep or fast inflow, a wheel that holds nothing back, and the wheel's motor.
 */
export function cautionsAt(c: Case, point: Point): Warning[] {
  const { state } = point;
  return [
    ...grindLimitCautions(c, state),
    ...heatCautions(c, state),
    ...moistureCautions(c, state),
    ...(c.loop.circuit === 'open' ? [] : [...inflowCautions(state), ...cutCautions(c, state)]),
    ...wheelMotorCautions(c, state),
  ];
}

/** A component whose grind limit c/W lies above its cut [m]. */
interface WeakHits {
  readonly component: number;
  readonly limit: number;
  readonly cut: number;
}

/** The components whose particles above the cut are not all broken by hits at this speed: c/W above the cut. */
export function weakHits(c: Case, state: State): WeakHits[] {
  if (state.status === 'choked' || c.loop.circuit === 'open') return [];
  const { hitEnergy: energy, impactSpeed: speed } = state.conditions;
  return c.components.flatMap(({ material: { selection } }, component) => {
    const limit = SELECTION_LAWS[selection.law]!.grindLimit(selection, { energy, speed });
    const cut = state.components[component]!.cutSize;
    return limit > cut ? [{ component, limit, cut }] : [];
  });
}

function grindLimitCautions(c: Case, state: State): Warning[] {
  return weakHits(c, state).map(({ component, limit, cut }) => {
    const { name } = c.components[component]!.material;
    const enough = rotorSpeedFor(c, component, cut);
    const remedy =
      enough === undefined
        ? 'turn the wheel slower'
        : `turn the rotor at ${formatQuantity(enough, 'rpm', 3)} or faster, or the wheel slower`;
    return {
      code: 'grind-limit-above-cut',
      message: `${name}: hits at this rotor speed break nothing below ${formatQuantity(limit, 'um', 3)}, which is above the cut, ${formatQuantity(cut, 'um', 3)}: the wheel holds back particles that cannot be broken, and a faster wheel then makes a coarser product; ${remedy}`,
    };
  });
}

/** Most a rotor speed is raised in search of hits strong enough. */
const MOST_FASTER = 20;

/** Lowest rotor speed [1/s] whose hits break what a cut holds back; undefined where none within reach does. */
function rotorSpeedFor(c: Case, component: number, cut: number): number | undefined {
  const { selection } = c.components[component]!.material;
  const { geometry, coefficients } = c.rotor;
  const tooWeak = (rotorSpeed: number): boolean => {
    const speed = coefficients.velocityRatio * tipSpeed(geometry.diameter, rotorSpeed);
    const energy = (normalEnergyShare(geometry.element) * speed * speed) / 2;
    return SELECTION_LAWS[selection.law]!.grindLimit(selection, { energy, speed }) > cut;
  };
  const { rotorSpeed } = c.settings;
  const fastest = MOST_FASTER * rotorSpeed;
  return tooWeak(fastest) ? undefined : bracket(tooWeak, rotorSpeed, fastest, { steps: 40 }).fails;
}

function heatCautions(c: Case, { conditions: { temperature } }: State): Warning[] {
  const rise = temperature - c.air.temperature;
  if (temperature <= HOT && rise <= LARGEST_RISE) return [];
  return [
    {
      code: 'outlet-hot',
      message: `outlet air at ${formatQuantity(temperature, 'degC', 3)}, ${formatQuantity(rise, 'K', 3)} above the inlet: hotter than such mills are run, and outside the range of the model; use more air, less feed or lower speeds, and check the temperature limits of product and dust`,
    },
  ];
}

/** Vapour over pressure at the inlet up to which dry-air heat capacity and viscosity serve. */
export const MOST_VAPOUR = 0.1;

function moistureCautions(c: Case, { conditions }: State): Warning[] {
  const found: Warning[] = [];
  const vapour = (c.air.humidity * saturationPressure(c.air.temperature)) / c.air.pressure;
  if (vapour > MOST_VAPOUR)
    found.push({
      code: 'inlet-vapour',
      message: `water vapour is ${formatNumber(100 * vapour, 3)} % of the inlet air's pressure, above 10 %: heat capacity and viscosity are those of dry air and do not hold; give the humidity at the air's own temperature`,
    });
  const { evaporated, waterLeft } = conditions;
  const feed = c.settings.feedRate;
  if (waterLeft > 1e-9 * feed)
    found.push({
      code: 'evaporation-saturated',
      message: `the outlet air is saturated at ${formatQuantity(conditions.temperature, 'degC', 3)}: of the ${formatQuantity(c.loop.evaporation, '%', 3)} water that should evaporate only ${formatQuantity(evaporated / feed, '%', 2)} does, and ${formatQuantity(waterLeft / feed, '%', 3)} stays in the product; use more or warmer air, or less feed`,
    });
  return found;
}

function inflowCautions({ conditions: { radialVelocity, swirlVelocity } }: State): Warning[] {
  const inflow = formatQuantity(radialVelocity, 'm/s', 3);
  const found: Warning[] = [];
  if (radialVelocity > swirlVelocity)
    found.push({
      code: 'inflow-steep',
      message: `air enters the wheel at ${inflow} and turns at ${formatQuantity(Math.max(0, swirlVelocity), 'm/s', 3)}, steeper than 45°: no sharp cut is expected; turn the wheel faster, use less air or a taller wheel`,
    });
  if (radialVelocity > FASTEST_INFLOW)
    found.push({
      code: 'inflow-fast',
      message: `air enters the wheel at ${inflow}, above ${FASTEST_INFLOW} m/s: deflector wheels are run slower, and the cut is not reliable; use less air or a taller wheel`,
    });
  return found;
}

function cutCautions(c: Case, state: State): Warning[] {
  if (state.status === 'choked') return [];
  return c.components.flatMap(({ material, feed }, k) => {
    const top = FEED_LAWS[feed.law]!.top(feed);
    const { cutSize } = state.components[k]!;
    if (!(cutSize > top)) return [];
    const cut = Number.isFinite(cutSize) ? `the cut, ${formatQuantity(cutSize, 'um', 3)},` : 'the cut';
    return [
      {
        code: 'cut-above-feed',
        message: `${material.name}: ${cut} is above the largest feed particle, ${formatQuantity(top, 'um', 3)}: the wheel holds nothing back; turn it faster`,
      },
    ];
  });
}

/** Wheel power over the rating of the wheel's motor, or of the mill's where the wheel has none given. */
export function wheelMotorLoad(c: Case, { conditions: { wheelPower } }: State): number {
  return wheelPower / (c.wheel.motor ?? c.rotor.motor).power;
}

function wheelMotorCautions(c: Case, state: State): Warning[] {
  const load = wheelMotorLoad(c, state);
  if (load <= 1) return [];
  const rating = formatQuantity((c.wheel.motor ?? c.rotor.motor).power, 'kW', 3);
  const needs = `the wheel shaft needs ${formatQuantity(state.conditions.wheelPower, 'kW', 3)}`;
  return [
    {
      code: 'wheel-motor',
      message: c.wheel.motor
        ? `${needs}; its motor delivers ${rating}: turn the wheel slower or use less air and feed`
        : `${needs}, more than the mill's own motor, ${rating}, and no wheel motor is given: check it and give it as motor of the wheel (${formatNumber(load, 3)} times the mill's rating)`,
    },
  ];
}
