import type { LawChoice } from '../../model/parameters.ts';
import { assumed, PLANT_SOURCES, recalled } from '../plant-evidence.ts';
import {
  CYCLONE,
  type CycloneDuty,
  type CycloneLaw,
  type CycloneState,
  inletWarnings,
  proportion,
} from './cyclone-law.ts';
import { type Barrel, coreSwirl, dustFriction, gasFriction, wallSwirl } from './friction.ts';

const SOURCE = `Barth and Muschelknautz, in ${PLANT_SOURCES.hoffmannStein}`;
const SHAPE = `${PLANT_SOURCES.stairmand}, high efficiency`;
/** Share of the gas that takes part in the vortex; the rest slips along the lid [-] (`recalled`). */
const VORTEX_SHARE = 0.9;
/** Strand density of the dust on the wall over bulk density [-] (`recalled`). */
const STRAND_SHARE = 0.4;

/** Balance of drag and centrifugal force on the core surface, with wall friction by the dust and a limit of loading. */
export const MUSCHELKNAUTZ: CycloneLaw = {
  name: 'barth-muschelknautz',
  summary:
    'balance on the core surface, wall friction, and what the gas cannot carry thrown out at the inlet',
  label: 'recalled',
  source: SOURCE,
  parameters: [
    ...CYCLONE,
    proportion('inletHeight', 'a/D', 'inlet height', 0.5, SHAPE),
    proportion('inletWidth', 'b/D', 'inlet width', 0.2, SHAPE),
    proportion('outletDiameter', 'D_x/D', 'vortex finder diameter', 0.5, SHAPE),
    proportion('finderLength', 'S/D', 'vortex finder length', 0.5, SHAPE),
    proportion('height', 'H/D', 'whole height', 4, SHAPE),
    proportion('coneHeight', 'H_c/D', 'cone height', 2.5, SHAPE),
    proportion('dustOutlet', 'D_d/D', 'dust outlet diameter', 0.375, SHAPE),
    {
      name: 'wallRoughness',
      symbol: 'k_s',
      unit: 'm',
      shownIn: 'mm',
      meaning: 'wall roughness',
      minimum: 0,
      maximum: 0.01,
      preset: recalled(0.000046, SOURCE),
    },
    {
      name: 'steepness',
      symbol: 'm',
      unit: '1',
      shownIn: '1',
      meaning: 'exponent of the grade efficiency, 2 to 7',
      minimum: 1,
      maximum: 10,
      preset: recalled(5, SOURCE),
    },
    {
      name: 'cutFactor',
      symbol: 'x_fact',
      unit: '1',
      shownIn: '1',
      meaning: 'factor on the cut size, to be fitted; 0.9 to 1.4',
      exclusiveMinimum: 0,
      maximum: 5,
      preset: assumed(1),
    },
  ],
  inletArea: (choice) => (choice.inletWidth as number) * (choice.inletHeight as number),
  separate,
};

/** Thinnest dust the form of the loading limit is stated for, c_o [-] (`recalled`). */
const THINNEST = 2.2e-5;

/**
 * Load the gas can carry (eq. P14), c_oL = 0.025 (x50/x_med)(10 c_o)^k with k = 0.15 from c_o = 0.1 up, −0.11 − 0.10 ln c_o from
 * 2.2e-5 to 0.1; below, where the form would throw out ever thinner dust, the limit of 2.2e-5 is kept (`assumed`).
 *
 * @param cut x50 of the vortex [m]
 * @param median x_med of the dust [m]
 * @param loading c_o, dust over gas by mass [-]
 */
function carriedLoad(cut: number, median: number, loading: number): number {
  const dense = Math.max(loading, THINNEST);
  const exponent = dense >= 0.1 ? 0.15 : -0.11 - 0.1 * Math.log(dense);
  return 0.025 * (cut / median) * (10 * dense) ** exponent;
}

function barrelOf(choice: LawChoice, diameter: number): Barrel {
  const d = (name: string) => (choice[name] as number) * diameter;
  const radius = diameter / 2;
  const core = d('outletDiameter') / 2;
  const dust = d('dustOutlet') / 2;
  const height = d('height');
  const cone = d('coneHeight');
  const slant = Math.hypot(cone, radius - dust);
  return {
    radius,
    coreRadius: core,
    inletWidth: d('inletWidth'),
    inletHeight: d('inletHeight'),
    height,
    finderLength: d('finderLength'),
    roughness: choice.wallRoughness as number,
    wallArea:
      Math.PI *
      (radius * radius -
        core * core +
        2 * radius * (height - cone) +
        (radius + dust) * slant +
        2 * core * d('finderLength')),
  };
}

/**
 * Separation and pressure loss; the dust's share of the wall friction depends on what is kept, so both are iterated.
 *
 * x50 = x_fact √(18 µ 0.9 Q/(2π (ρ_p − ρ) v_θCS² (H − S))), η = 1/(1 + (x50/x)^m)   (eq. P14)
 * Δp = f A_R ρ (v_θw v_θCS)^1.5/(2·0.9 Q) + [2 + (v_θCS/v_x)² + 3 (v_θCS/v_x)^(4/3)] ρv_x²/2 + (1 + c_o) ρ (v_in² − v_a²)/2   (eq. P15)
 */
function separate(choice: LawChoice, diameter: number, duty: CycloneDuty): CycloneState {
  const barrel = barrelOf(choice, diameter);
  const inletVelocity = duty.flow / (barrel.inletWidth * barrel.inletHeight);
  const outletVelocity = duty.flow / (Math.PI * barrel.coreRadius ** 2);
  const dust = describe(duty);
  const loading = dust.rate / (duty.flow * duty.airDensity);
  const wall = wallSwirl(barrel, inletVelocity, loading);
  const gas = {
    flow: duty.flow,
    density: duty.airDensity,
    viscosity: duty.viscosity,
    vortexShare: VORTEX_SHARE,
  };
  let overall = 1;
  let core = wall;
  let friction = 0;
  let result: Separation = { cutSizes: [], kept: [], thrownOut: 0, overall: 0 };
  for (let turn = 0; turn < 100; turn++) {
    friction =
      gasFriction(barrel, gas, wall, core) +
      dustFriction(barrel, gas, outletVelocity, overall * loading, STRAND_SHARE * duty.bulkDensity);
    core = coreSwirl(barrel, duty.flow, wall, friction);
    result = split(choice, barrel, duty, dust, core, loading);
    const change = Math.abs(result.overall - overall);
    overall = result.overall;
    if (turn > 2 && change < 1e-15) break;
  }
  const ratio = core / outletVelocity;
  const body =
    (friction * barrel.wallArea * duty.airDensity * (wall * core) ** 1.5) / (2 * VORTEX_SHARE * duty.flow);
  const finder = (2 + ratio ** 2 + 3 * ratio ** (4 / 3)) * ((duty.airDensity * outletVelocity ** 2) / 2);
  const faster = Math.max(0, inletVelocity ** 2 - duty.approach ** 2);
  return {
    inletVelocity,
    cutSizes: result.cutSizes,
    kept: result.kept,
    thrownOut: result.thrownOut,
    pressureLoss: body + finder + ((1 + loading) * duty.airDensity * faster) / 2,
    warnings: inletWarnings(inletVelocity),
  };
}

interface Separation {
  readonly cutSizes: readonly number[];
  readonly kept: readonly Float64Array[];
  readonly thrownOut: number;
  readonly overall: number;
}

/** Rate of all streams, their median size and mean particle density. */
function describe({ sizes, streams }: CycloneDuty): { rate: number; median: number; density: number } {
  let rate = 0;
  let volume = 0;
  const bySize = new Float64Array(sizes.length);
  for (const { rates, density } of streams) {
    for (let i = 0; i < rates.length; i++) {
      rate += rates[i]!;
      bySize[i]! += rates[i]!;
      volume += rates[i]! / density;
    }
  }
  return { rate, median: medianOf(sizes, bySize, rate), density: rate / volume };
}

/** Median of a distribution by class, drawn on between representative sizes in ln x. */
function medianOf(sizes: Float64Array, rates: Float64Array, rate: number): number {
  let below = 0;
  for (let i = 0; i < sizes.length; i++) {
    const middle = below + rates[i]! / 2;
    const next = i + 1 < sizes.length ? below + rates[i]! + rates[i + 1]! / 2 : Number.POSITIVE_INFINITY;
    if (middle >= rate / 2 || next === Number.POSITIVE_INFINITY) return sizes[i]!;
    if (next >= rate / 2) {
      const along = (rate / 2 - middle) / (next - middle);
      return sizes[i]! * (sizes[i + 1]! / sizes[i]!) ** along;
    }
    below += rates[i]!;
  }
  return sizes[sizes.length - 1]!;
}

function split(
  choice: LawChoice,
  barrel: Barrel,
  duty: CycloneDuty,
  dust: { readonly rate: number; readonly median: number; readonly density: number },
  core: number,
  loading: number,
): Separation {
  const cutOf = (density: number) =>
    (choice.cutFactor as number) *
    Math.sqrt(
      (18 * duty.viscosity * VORTEX_SHARE * duty.flow) /
        (2 * Math.PI * (density - duty.airDensity) * core * core * (barrel.height - barrel.finderLength)),
    );
  const carried = loading > 0 ? carriedLoad(cutOf(dust.density), dust.median, loading) : 0;
  const toVortex = loading > 0 ? Math.min(1, carried / loading) : 1;
  const steepness = choice.steepness as number;
  const cutSizes = duty.streams.map(({ density }) => cutOf(density));
  let kept = 0;
  const shares = duty.streams.map(({ rates }, k) =>
    duty.sizes.map((size, i) => {
      const share = 1 - toVortex + toVortex / (1 + (cutSizes[k]! / size) ** steepness);
      kept += share * rates[i]!;
      return share;
    }),
  );
  return { cutSizes, kept: shares, thrownOut: 1 - toVortex, overall: dust.rate > 0 ? kept / dust.rate : 1 };
}
