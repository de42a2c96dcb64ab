import { entry, NUMBER, PERCENT, POWER, SIZE, SPEED } from './entry.ts';
import { wheelMotorLoad } from './operating-cautions.ts';
import { conditions, type Quantity } from './quantity.ts';

/** What the rotor does and takes. */
export const ROTOR: readonly Quantity[] = [
  entry('rotor', 'tipSpeed', 'v_tip', SPEED, 'rotor tip speed', (s) => conditions(s).tipSpeed),
  entry(
    'rotor',
    'hitsPerPass',
    'k',
    NUMBER,
    'mean hits a particle takes in one pass of the rotor',
    (s) => conditions(s).hitsPerPass,
  ),
  entry('rotor', 'idlePower', 'P_0', POWER, 'rotor power without solids', (s) => conditions(s).idlePower),
  entry(
    'rotor',
    'grindingPower',
    'P_g',
    POWER,
    'rotor power given to the solids',
    (s) => conditions(s).grindingPower,
  ),
  entry(
    'rotor',
    'rotorPower',
    'P',
    POWER,
    'rotor power, idle and grinding',
    (s) => conditions(s).rotorPower,
    'power',
  ),
  entry(
    'rotor',
    'motorLoad',
    'P/P_av',
    NUMBER,
    'rotor power over what the motor gives at this speed',
    (s) => conditions(s).rotorPower / conditions(s).availablePower,
  ),
  entry(
    'rotor',
    'rotorSpeedUse',
    'N/N_max',
    PERCENT,
    'rotor speed over its highest allowed',
    (s) => s.case.settings.rotorSpeed / s.case.rotor.maxSpeed,
  ),
];

/** What the wheel does and takes. */
export const WHEEL: readonly Quantity[] = [
  entry(
    'wheel',
    'cutSize',
    'x_c',
    SIZE,
    'size of which the wheel passes half (first component)',
    (s) => s.state.components[0]!.cutSize,
  ),
  entry(
    'wheel',
    'stokesCutSize',
    'x_c,St',
    SIZE,
    'cut size if drag followed Stokes',
    (s) => s.state.components[0]!.stokesCutSize,
  ),
  entry(
    'wheel',
    'sharpness',
    'κ',
    NUMBER,
    'x25/x75 of the grade efficiency at this load',
    (s) => conditions(s).sharpness,
  ),
  entry(
    'wheel',
    'bypass',
    'τ',
    NUMBER,
    'share that returns to the rotor whatever its size',
    (s) => conditions(s).bypass,
  ),
  entry('wheel', 'rimSpeed', 'ωR', SPEED, 'rim speed of the wheel', (s) => conditions(s).rimSpeed),
  entry(
    'wheel',
    'radialVelocity',
    'v_r',
    SPEED,
    'inflow velocity at the rim',
    (s) => conditions(s).radialVelocity,
  ),
  entry(
    'wheel',
    'wheelPower',
    'P_w',
    POWER,
    'power given to air and solids by the wheel',
    (s) => conditions(s).wheelPower,
    'power',
  ),
  entry(
    'wheel',
    'wheelMotorLoad',
    'P_w/P_w,rated',
    NUMBER,
    "wheel power over the rating of its motor (of the mill's motor where the wheel has none given)",
    (s) => wheelMotorLoad(s.case, s.state),
  ),
  entry(
    'wheel',
    'pressureLoss',
    'Δp',
    ['Pa', 'Pa', 'Pa'],
    'pressure loss of rotor gap and wheel',
    (s) => conditions(s).pressureLoss,
  ),
  entry(
    'wheel',
    'wheelSpeedUse',
    'n_w/n_max',
    PERCENT,
    'wheel speed over its highest allowed',
    (s) => s.case.settings.wheelSpeed / s.case.wheel.maxSpeed,
  ),
];
