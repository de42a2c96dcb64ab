import type { LawChoice } from './parameters.ts';

/** One solid fed to the chamber; all numbers SI. */
export interface Material {
  readonly name: string;
  /** Particle density [kg/m³]. */
  readonly density: number;
  /** Sphericity [-], surface of the equal-volume sphere over the particle's own. */
  readonly sphericity: number;
  /** Heat capacity [J/(kg K)]. */
  readonly heatCapacity: number;
  readonly selection: LawChoice;
  readonly fragments: LawChoice;
}

/** Share of the feed by mass, its material and its size curve. */
export interface Component {
  readonly share: number;
  readonly material: Material;
  readonly feed: LawChoice;
}

export type ElementKind = 'bar' | 'pin';

export interface Rotor {
  readonly geometry: {
    readonly element: ElementKind;
    /** Tip diameter D [m]. */
    readonly diameter: number;
    readonly count: number;
    /** Element height h along the flow [m]. */
    readonly height: number;
    /** Face width w [m]. */
    readonly width: number;
    /** Effective annulus gap s to the liner [m]. */
    readonly gap: number;
  };
  readonly coefficients: {
    readonly velocityRatio: number;
    readonly hitFactor: number;
    readonly linerFactor: number;
    /** ψ of eq. 4: speed between rotor and liner over tip speed [-]. */
    readonly returnRatio: number;
    /** λ_r of eq. 6. */
    readonly crowdingLoad: number;
    readonly idleNumber: number;
    readonly restitution: number;
    /** χ_P, factor on the grinding power of eq. 23; 1 where absent. */
    readonly powerFactor?: number;
    /** ξ_g of eq. 24b. */
    readonly gapLoss: number;
  };
  readonly motor: { readonly power: number /** [1/s] */; readonly baseSpeed: number };
  /** [1/s] */
  readonly maxSpeed: number;
}

export interface Wheel {
  readonly geometry: {
    /** Outer diameter D_w [m]. */
    readonly diameter: number;
    /** Vane height H along the axis [m]. */
    readonly height: number;
    readonly vanes: number;
    /** Vane thickness t [m]. */
    readonly thickness: number;
    /** Lean β from the radial direction [rad]. */
    readonly lean: number;
    /** Open share of the rim [-]; replaces vanes and thickness in the free area when given. */
    readonly openArea?: number;
  };
  readonly coefficients: {
    /** κ_0 = x25/x75 [-]. */
    readonly sharpness: number;
    readonly sharpnessLoading: number;
    readonly cutLoading: number;
    readonly bypass: number;
    readonly bypassLoading: number;
    readonly leakage: number;
    /** χ_r. */
    readonly radialFactor: number;
    /** χ_β. */
    readonly leanFactor: number;
    /** χ_φ; eq. 17 unless given. */
    readonly swirlFactor?: number;
    /** χ_c. */
    readonly cutFactor: number;
    /** ξ_w of eq. 24b. */
    readonly entranceLoss: number;
    /** χ_p of eq. 24b. */
    readonly vortexLoss: number;
  };
  readonly efficiency: LawChoice;
  /** The wheel's own motor, rated power [W]; absent where it is not given. */
  readonly motor?: { readonly power: number };
  /** [1/s] */
  readonly maxSpeed: number;
}

export interface Air {
  /** Volume flow [m³/s] at the state named by `flowState`. */
  readonly flow: number;
  readonly flowState: 'inlet' | 'standard' | 'normal';
  /** Inlet temperature [K]. */
  readonly temperature: number;
  /** Inlet pressure [Pa]. */
  readonly pressure: number;
  /** Relative humidity [-]. */
  readonly humidity: number;
}

/**
 * Which way the coarse goes back (eq. 26b): `internal` — wheel inside the chamber; `external` — screen or
 * separate classifier outside, the chamber itself lets all pass; `open` — once through.
 */
export type Circuit = 'internal' | 'external' | 'open';

export interface Loop {
  readonly circuit: Circuit;
  /** Mixed stages per pass, N of form 26a; 1 is eq. 26; Infinity is plug flow. */
  readonly stages: number;
  /** τ_loop [s]. */
  readonly loopTime: number;
  /** λ_max [-]. */
  readonly chokeLoad: number;
  /** Heat lost through the casing per kelvin above inlet air [W/K]. */
  readonly casingLoss: number;
  /** Water evaporated per mass of feed [kg/kg]. */
  readonly evaporation: number;
  readonly classesPerOctave: number;
  /** Lowest class edge [m]. */
  readonly smallestSize: number;
}

/** Everything the model needs for one operating point, SI, defaults filled. */
export interface Case {
  readonly components: readonly Component[];
  readonly rotor: Rotor;
  readonly wheel: Wheel;
  readonly wheelName: string;
  readonly air: Air;
  readonly loop: Loop;
  readonly settings: {
    /** Rotor frequency N [1/s]. */
    readonly rotorSpeed: number;
    /** Wheel frequency [1/s]. */
    readonly wheelSpeed: number;
    /** Feed rate F [kg/s]. */
    readonly feedRate: number;
  };
}
