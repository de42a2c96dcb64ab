import type { Parameter, Warning } from '../model/parameters.ts';
import { frictionFactor, GRAVITY, saltationVelocity } from './pipe.ts';
import { assumed, PLANT_SOURCES, practice } from './plant-evidence.ts';

/** Numbers of a conveying line, SI; a diameter left out is the one that gives the design velocity. */
export interface Line {
  readonly diameter?: number;
  readonly velocity: number;
  readonly length: number;
  readonly rise: number;
  readonly bends: number;
  readonly bendLoss: number;
  readonly roughness: number;
  readonly solidsFriction: number;
  readonly slip: number;
  readonly heatLoss: number;
}

/** `plant.feedLine` and `plant.productLine`. */
export const LINE: readonly Parameter[] = [
  {
    name: 'diameter',
    symbol: 'd_L',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'inner diameter; left out, the line is sized for `velocity` at the air flow set',
    exclusiveMinimum: 0,
    maximum: 3,
    optional: true,
  },
  {
    name: 'velocity',
    symbol: 'v_L',
    unit: 'm/s',
    shownIn: 'm/s',
    meaning: 'air velocity a line left out is sized for',
    exclusiveMinimum: 0,
    maximum: 60,
    preset: practice(20, PLANT_SOURCES.conveying),
  },
  {
    name: 'length',
    symbol: 'L',
    unit: 'm',
    shownIn: 'm',
    meaning: 'length of pipe',
    minimum: 0,
    maximum: 500,
    preset: assumed(6),
  },
  {
    name: 'rise',
    symbol: 'Δz',
    unit: 'm',
    shownIn: 'm',
    meaning: 'height of the end above the start',
    minimum: 0,
    maximum: 100,
    preset: assumed(3),
  },
  {
    name: 'bends',
    symbol: 'n_b',
    unit: '1',
    shownIn: '1',
    meaning: 'bends of 90 degrees',
    minimum: 0,
    maximum: 50,
    integer: true,
    preset: assumed(2),
  },
  {
    name: 'bendLoss',
    symbol: 'ξ_b',
    unit: '1',
    shownIn: '1',
    meaning: 'loss coefficient of one bend, air and solids alike',
    minimum: 0,
    maximum: 5,
    preset: practice(0.3, PLANT_SOURCES.conveying),
  },
  {
    name: 'roughness',
    symbol: 'ε',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'wall roughness',
    minimum: 0,
    maximum: 0.01,
    preset: practice(0.00009, PLANT_SOURCES.conveying),
  },
  {
    name: 'solidsFriction',
    symbol: 'λ_s',
    unit: '1',
    shownIn: '1',
    meaning: 'extra friction factor of the solids, per loading',
    minimum: 0,
    maximum: 0.1,
    preset: assumed(0.005),
  },
  {
    name: 'slip',
    symbol: 'c/v',
    unit: '1',
    shownIn: '1',
    meaning: 'solids velocity over air velocity',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: assumed(0.85),
  },
  {
    name: 'heatLoss',
    symbol: 'U_L',
    unit: 'W/K',
    shownIn: 'W/K',
    meaning: 'heat lost through the wall per kelvin above the room',
    minimum: 0,
    preset: assumed(0),
  },
];

/** What a line carries. */
interface LineDuty {
  /** Air volume flow [m³/s], density [kg/m³], viscosity [Pa s]. */
  readonly flow: number;
  readonly airDensity: number;
  readonly viscosity: number;
  /** Solids [kg/s] and their median size [m]. */
  readonly solids: number;
  readonly size: number;
}

export interface LineState {
  readonly diameter: number;
  readonly given: boolean;
  readonly velocity: number;
  /** Solids over air, by mass [-]. */
  readonly loading: number;
  /** Rizk's saltation velocity [m/s] and how many times faster the air is [-]. */
  readonly saltationVelocity: number;
  readonly saltationRatio: number;
  readonly frictionFactor: number;
  /** Pressure losses [Pa], in the parts they come from, and their sum. */
  readonly losses: {
    readonly friction: number;
    readonly bends: number;
    readonly solids: number;
    readonly acceleration: number;
    readonly lift: number;
  };
  readonly pressureLoss: number;
  readonly warnings: readonly Warning[];
}

/** Least ratio of air velocity to saltation velocity without a caution [-] (`practice`). */
const SAFE_RATIO = 1.5;
/** Sizes Rizk's data cover [m] (`recalled`). */
const RIZK_RANGE: readonly [number, number] = [100e-6, 3e-3];

/** Diameter that gives the design velocity at a flow [m]. */
function lineDiameter(line: Line, designFlow: number): number {
  return line.diameter ?? Math.sqrt((4 * designFlow) / (Math.PI * line.velocity));
}

/**
 * A conveying line: velocity against saltation, loading, pressure loss (eq. P9).
 *
 * Δp = f (L/D) ρv²/2 + n ξ_b (1 + µ) ρv²/2 + µ λ_s (L/D) ρv²/2 + µ ρ v c + (1 + µ v/c) ρ g Δz
 * (air friction, bends, solids friction, their acceleration, their lift; `practice` form)
 *
 * @param line numbers, SI
 * @param duty what it carries
 * @param designFlow air flow a line left out is sized for [m³/s]
 */
export function conveyingLine(line: Line, duty: LineDuty, designFlow: number): LineState {
  const diameter = lineDiameter(line, designFlow);
  const velocity = (4 * duty.flow) / (Math.PI * diameter * diameter);
  const dynamic = (duty.airDensity * velocity * velocity) / 2;
  const loading = duty.solids / (duty.flow * duty.airDensity);
  const reynolds = (duty.airDensity * velocity * diameter) / duty.viscosity;
  const friction = frictionFactor(reynolds, line.roughness / diameter);
  const slenderness = line.length / diameter;
  const losses = {
    friction: friction * slenderness * dynamic,
    bends: line.bends * line.bendLoss * (1 + loading) * dynamic,
    solids: loading * line.solidsFriction * slenderness * dynamic,
    acceleration: loading * 2 * dynamic * line.slip,
    lift: (1 + loading / line.slip) * duty.airDensity * GRAVITY * line.rise,
  };
  const saltation = saltationVelocity(duty.solids, duty.size, duty.airDensity, diameter);
  return {
    diameter,
    given: line.diameter !== undefined,
    velocity,
    loading,
    saltationVelocity: saltation,
    saltationRatio: velocity / saltation,
    frictionFactor: friction,
    losses,
    pressureLoss: losses.friction + losses.bends + losses.solids + losses.acceleration + losses.lift,
    warnings: lineWarnings(velocity / saltation, duty.size),
  };
}

function lineWarnings(ratio: number, size: number): Warning[] {
  const found: Warning[] = [];
  if (ratio < SAFE_RATIO) {
    found.push({
      code: 'line-saltation',
      message: `a line runs at only ${ratio.toFixed(2)} times the velocity at which its solids settle out: below ${SAFE_RATIO} it may silt up`,
    });
  }
  const [least, most] = RIZK_RANGE;
  if (size < least || size > most) {
    found.push({
      code: 'line-saltation-validity',
      message:
        'the saltation velocity is drawn beyond the sizes of its data (0.1 to 3 mm); fine powder also sticks',
    });
  }
  return found;
}
