import type { Case } from '../../model/case.ts';
import type { SizeCurve } from '../../model/psd/curve.ts';
import { theModel } from '../../model/sources.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import { NORMAL_95 } from '../../trials/fit/quantile.ts';
import { matchProduct } from './match.ts';
import { differenceOf } from './product.ts';

/** What of another machine is not known from the first: a coefficient, and the spread of its logarithm. */
export interface Unknown {
  readonly name: string;
  readonly spread: number;
  readonly source: string;
  readonly apply: (c: Case, factor: number) => Case;
}

const SECTION = theModel('K1');
const FORM = 'chosen here';

/** Coefficients that another machine of the same kind brings its own value of (`assumed`). */
export const UNKNOWNS: readonly Unknown[] = [
  {
    name: 'cut factor of the wheel',
    spread: 0.15,
    source: SECTION,
    apply: (c, factor) => withWheel(c, 'cutFactor', factor),
  },
  {
    name: 'sharpness of the wheel',
    spread: 0.1,
    source: FORM,
    apply: (c, factor) => withWheel(c, 'sharpness', factor),
  },
  {
    name: 'hit factor of the rotor',
    spread: 0.2,
    source: FORM,
    apply: (c, factor) => withRotor(c, 'hitFactor', factor),
  },
  {
    name: 'idle number of the rotor',
    spread: 0.2,
    source: FORM,
    apply: (c, factor) => withRotor(c, 'idleNumber', factor),
  },
];

function withWheel(c: Case, name: 'cutFactor' | 'sharpness', factor: number): Case {
  const { coefficients } = c.wheel;
  return {
    ...c,
    wheel: { ...c.wheel, coefficients: { ...coefficients, [name]: coefficients[name] * factor } },
  };
}

function withRotor(c: Case, name: 'hitFactor' | 'idleNumber', factor: number): Case {
  const { coefficients } = c.rotor;
  return {
    ...c,
    rotor: { ...c.rotor, coefficients: { ...coefficients, [name]: coefficients[name] * factor } },
  };
}

/** Half widths of 95 % bands, relative: 0.1 is ± 10 %. */
export interface Bands {
  /** Of the settings, once the wheel and rotor have been adjusted to the product again. */
  readonly rotorSpeed: number;
  readonly wheelSpeed: number;
  /** Of the rotor power at those settings. */
  readonly rotorPower: number;
  /** Of the product where the settings are not adjusted. */
  readonly x50: number;
  readonly x95: number;
  readonly x97: number;
}

/**
 * Bands of a scaled point: each unknown is moved by one standard deviation both ways, the effects are added as squares
 * (`derived` for small, independent effects; their spreads are `assumed`).
 *
 * @param c the scaled point
 * @param wanted product
 */
export function bandsOf(c: Case, wanted: SizeCurve): Bands {
  const squares = { rotorSpeed: 0, wheelSpeed: 0, rotorPower: 0, x50: 0, x95: 0, x97: 0 };
  const add = (name: keyof Bands, effect: number) => {
    if (Number.isFinite(effect)) squares[name] += effect * effect;
  };
  for (const { spread, apply } of UNKNOWNS) {
    const [low, high] = [-1, 1].map((side) => effectOf(apply(c, Math.exp(side * spread)), wanted));
    if (!low || !high) continue;
    for (const name of Object.keys(squares) as (keyof Bands)[])
      add(name, Math.log(high[name]! / low[name]!) / 2);
  }
  const half = (name: keyof Bands) => NORMAL_95 * Math.sqrt(squares[name]);
  return {
    rotorSpeed: half('rotorSpeed'),
    wheelSpeed: half('wheelSpeed'),
    rotorPower: half('rotorPower'),
    x50: half('x50'),
    x95: half('x95'),
    x97: half('x97'),
  };
}

/** Settings after adjusting, power there, and the product without; undefined where it chokes. */
function effectOf(c: Case, wanted: SizeCurve): Record<keyof Bands, number> | undefined {
  const blind = solvePoint(c, { choke: false });
  const match = matchProduct(c, wanted);
  if (blind.status === 'choked' || !match) return undefined;
  const { judged } = differenceOf(blind.curve, wanted);
  const { settings } = match.case;
  return {
    rotorSpeed: settings.rotorSpeed,
    wheelSpeed: settings.wheelSpeed,
    rotorPower: match.solved.state.conditions.rotorPower,
    x50: 1 + judged.x50,
    x95: 1 + judged.x95,
    x97: 1 + judged.x97,
  };
}
