import type { Case, Wheel } from '../src/model/case.ts';

const micrometre = 1e-6;
const rpm = 1 / 60;
const degree = Math.PI / 180;

const mediumRadial: Wheel = {
  geometry: { diameter: 0.2, height: 0.06, vanes: 24, thickness: 0.003, lean: 0 },
  coefficients: {
    sharpness: 0.6,
    sharpnessLoading: 0.03,
    cutLoading: 0,
    bypass: 0.03,
    bypassLoading: 0.02,
    leakage: 2e-4,
    radialFactor: 1,
    leanFactor: 0.5,
    cutFactor: 1,
    entranceLoss: 1,
    vortexLoss: 1,
  },
  efficiency: { law: 'rosin-rammler' },
  maxSpeed: 6000 * rpm,
};

/** The three wheels of the pilot mill. */
export const WHEELS = {
  'medium-radial': mediumRadial,
  'medium-leaning': { ...mediumRadial, geometry: { ...mediumRadial.geometry, lean: 30 * degree } },
  'long-leaning': {
    ...mediumRadial,
    geometry: { ...mediumRadial.geometry, lean: 30 * degree, height: 0.11 },
  },
} as const satisfies Record<string, Wheel>;

/** The pilot point of notebooks/the-model.md: organic crystal, 90 m/s tip, medium leaning wheel at 1500 rpm, 300 kg/h. */
export const PILOT: Case = {
  components: [
    {
      share: 1,
      material: {
        name: 'organic crystal',
        density: 1590,
        sphericity: 0.85,
        heatCapacity: 1240,
        selection: { law: 'impact', friability: 0.9, threshold: 0.025 },
        fragments: { law: 'impact', exponent: 0.9, finesScale: 1 * micrometre },
      },
      feed: { law: 'log-normal', x50: 500 * micrometre, spread: 0.35 },
    },
  ],
  rotor: {
    geometry: { element: 'bar', diameter: 0.3, count: 12, height: 0.03, width: 0.02, gap: 0.01 },
    coefficients: {
      velocityRatio: 0.85,
      hitFactor: 1,
      linerFactor: 1,
      returnRatio: 0.15,
      crowdingLoad: 6,
      idleNumber: 0.8,
      restitution: 0.1,
      gapLoss: 8.41,
    },
    motor: { power: 15000, baseSpeed: 5000 * rpm },
    maxSpeed: 7200 * rpm,
  },
  wheel: WHEELS['medium-leaning'],
  wheelName: 'medium-leaning',
  air: { flow: 1500 / 3600, flowState: 'inlet', temperature: 293.15, pressure: 101325, humidity: 0.5 },
  loop: {
    circuit: 'internal',
    stages: 1,
    loopTime: 0.06,
    chokeLoad: 10,
    casingLoss: 0,
    evaporation: 0,
    classesPerOctave: 8,
    smallestSize: 0.1 * micrometre,
  },
  settings: { rotorSpeed: 90 / (Math.PI * 0.3), wheelSpeed: 1500 * rpm, feedRate: 300 / 3600 },
};

/** What may be changed about a case in one call. */
export interface Change {
  readonly settings?: Partial<Case['settings']>;
  readonly wheel?: Wheel;
  readonly coefficients?: Partial<Wheel['coefficients']>;
  readonly wheelGeometry?: Partial<Wheel['geometry']>;
  readonly rotor?: Partial<Case['rotor']['coefficients']>;
  readonly rotorGeometry?: Partial<Case['rotor']['geometry']>;
  readonly air?: Partial<Case['air']>;
  readonly loop?: Partial<Case['loop']>;
  readonly material?: Partial<Case['components'][number]['material']>;
  readonly feed?: Case['components'][number]['feed'];
  readonly efficiency?: Wheel['efficiency'];
}

/** A copy of a case with some of its parts changed. */
export function changed(c: Case, change: Change): Case {
  const wheel = change.wheel ?? c.wheel;
  const component = c.components[0]!;
  return {
    ...c,
    components: [
      {
        ...component,
        material: { ...component.material, ...change.material },
        feed: change.feed ?? component.feed,
      },
      ...c.components.slice(1),
    ],
    rotor: {
      ...c.rotor,
      geometry: { ...c.rotor.geometry, ...change.rotorGeometry },
      coefficients: { ...c.rotor.coefficients, ...change.rotor },
    },
    wheel: {
      ...wheel,
      geometry: { ...wheel.geometry, ...change.wheelGeometry },
      coefficients: { ...wheel.coefficients, ...change.coefficients },
      efficiency: change.efficiency ?? wheel.efficiency,
    },
    air: { ...c.air, ...change.air },
    loop: { ...c.loop, ...change.loop },
    settings: { ...c.settings, ...change.settings },
  };
}

export { degree, micrometre, rpm };
