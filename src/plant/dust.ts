import type { Parameter } from '../model/parameters.ts';

/** Measured explosion data of the dust, SI; what is left out is an unknown hazard. */
export interface DustData {
  readonly kst?: number;
  readonly highestPressure?: number;
  readonly lowerLimit?: number;
  readonly ignitionEnergy?: number;
  readonly cloudTemperature?: number;
  readonly layerTemperature?: number;
  readonly oxygenLimit?: number;
}

/** `plant.dust`: from tests on your own dust; there are no presets, and no literature values. */
export const DUST: readonly Parameter[] = [
  {
    name: 'kst',
    symbol: 'K_St',
    unit: 'Pa m/s',
    shownIn: 'bar m/s',
    meaning: 'normalised rate of pressure rise of your own dust',
    minimum: 0,
    optional: true,
  },
  {
    name: 'highestPressure',
    symbol: 'p_max',
    unit: 'Pa',
    shownIn: 'bar',
    meaning: 'highest explosion overpressure of your own dust',
    minimum: 0,
    optional: true,
  },
  {
    name: 'lowerLimit',
    symbol: 'LEL',
    unit: 'kg/m^3',
    shownIn: 'g/m^3',
    meaning: 'lower explosible concentration of your own dust',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'ignitionEnergy',
    symbol: 'MIE',
    unit: 'J',
    shownIn: 'mJ',
    meaning: 'minimum ignition energy of your own dust',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'cloudTemperature',
    symbol: 'MIT',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'minimum ignition temperature of a cloud of your own dust',
    exclusiveMinimum: 273,
    optional: true,
  },
  {
    name: 'layerTemperature',
    symbol: 'LIT',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'minimum ignition temperature of a layer of your own dust',
    exclusiveMinimum: 273,
    optional: true,
  },
  {
    name: 'oxygenLimit',
    symbol: 'LOC',
    unit: '1',
    shownIn: '%',
    meaning: 'limiting oxygen concentration of your own dust',
    exclusiveMinimum: 0,
    maximum: 0.21,
    optional: true,
  },
];

/** Dust explosion class. */
export type DustClass = 0 | 1 | 2 | 3;

/** Upper ends of classes St 1 and St 2 [Pa m/s] (`published`: OSHA CPL 03-00-008). */
const CLASS_ENDS = [200e5, 300e5] as const;
/** Rounding of a unit conversion must not move a value that stands on a class's end. */
const ROUNDING = 1e-12;

/**
 * Dust explosion class from K_St: St 0 none, St 1 up to 200, St 2 up to 300, St 3 above, in bar m/s
 * (`published`: OSHA CPL 03-00-008). A class says how violent, never that a dust is safe.
 *
 * @param kst [Pa m/s]
 * @example dustClass(200.1e5) // 2
 */
export function dustClass(kst: number): DustClass {
  if (kst <= 0) return 0;
  if (kst <= CLASS_ENDS[0] * (1 + ROUNDING)) return 1;
  return kst <= CLASS_ENDS[1] * (1 + ROUNDING) ? 2 : 3;
}

/** Relative speeds below which friction hardly ignites, and above which it readily does [m/s] (`practice`). */
export const FRICTION_SPEEDS = { slow: 1, fast: 10 } as const;

/**
 * Speed of rotation at which a rim reaches a speed, v/(2πR).
 *
 * @param rim v [m/s]
 * @param radius R [m]
 * @returns [1/s]
 * @example frictionSpeed(1, 0.2) * 60 // 47.7 rpm
 */
export function frictionSpeed(rim: number, radius: number): number {
  return rim / (2 * Math.PI * radius);
}

/** How a line of the screening stands. There is no `safe`. */
export type Standing = 'hazard' | 'unknown hazard' | 'to be judged';

/** One line of the screening. */
export interface ScreeningLine {
  readonly item: string;
  readonly standing: Standing;
  readonly finding: string;
  readonly caution: string;
}

/** Where the dust is, and how thick [kg/m³]. */
export interface DustPlace {
  readonly place: string;
  readonly concentration: number;
}

const OWN =
  'Literature values belong to the sample they were measured on: test your own dust, at its own fineness and moisture.';
const CLOUD = 'Start-up, shut-down, cleaning and deposits make other concentrations than steady running.';

/**
 * Screening of the dust and the turning parts at an operating point. Says what is a hazard and what is not known, gives no
 * design value, and never says safe.
 *
 * @param dust measured data
 * @param mill rim speeds [m/s] with the part they belong to, hottest air [K]
 * @param places concentrations around the mill
 */
export function screenDust(
  dust: DustData,
  mill: {
    readonly rims: readonly { readonly part: string; readonly speed: number }[];
    readonly temperature: number;
  },
  places: readonly DustPlace[],
): ScreeningLine[] {
  return [
    violence(dust),
    pressure(dust),
    ...places.map((place) => concentration(dust, place)),
    spark(dust),
    ...mill.rims.map(friction),
    hotCloud(dust, mill.temperature),
    hotLayer(dust, mill.temperature),
    inerting(dust),
  ];
}

const unknown = (item: string, what: string, caution: string): ScreeningLine => ({
  item,
  standing: 'unknown hazard',
  finding: `${what} not given`,
  caution,
});

function violence({ kst }: DustData): ScreeningLine {
  const item = 'explosion violence';
  if (kst === undefined) return unknown(item, 'K_St', `Treat it as an explosible dust until tested. ${OWN}`);
  const st = dustClass(kst);
  const finding = `K_St ${(kst / 1e5).toFixed(1)} bar m/s: class St ${st}`;
  if (st === 0) {
    return {
      item,
      standing: 'to be judged',
      finding,
      caution: `Not explosible in that test only; finer or drier dust may be. ${OWN}`,
    };
  }
  return { item, standing: 'hazard', finding, caution: `A class says how violent, not how likely. ${OWN}` };
}

function pressure({ highestPressure }: DustData): ScreeningLine {
  const item = 'explosion pressure';
  if (highestPressure === undefined) return unknown(item, 'p_max', OWN);
  return {
    item,
    standing: 'hazard',
    finding: `p_max ${(highestPressure / 1e5).toFixed(1)} bar`,
    caution:
      'Ordinary mills, ducts and filters do not hold such a pressure. Vents and isolation are designed by licensed practice.',
  };
}

/** A concentration as dust people state it. */
function inGrams(concentration: number): string {
  const grams = 1000 * concentration;
  return `${grams >= 100 ? Math.round(grams) : Number(grams.toPrecision(2))} g/m³`;
}

function concentration({ lowerLimit }: DustData, { place, concentration: c }: DustPlace): ScreeningLine {
  const item = `dust cloud: ${place}`;
  const now = inGrams(c);
  if (lowerLimit === undefined) {
    return {
      ...unknown(item, 'lower explosible limit', `${OWN} ${CLOUD}`),
      finding: `${now}; lower explosible limit not given`,
    };
  }
  const limit = inGrams(lowerLimit);
  if (c >= lowerLimit) {
    return {
      item,
      standing: 'hazard',
      finding: `${now}, at or above the lower limit of ${limit}`,
      caution: 'Never count on being above the upper limit: the cloud thins out at every start and stop.',
    };
  }
  return {
    item,
    standing: 'to be judged',
    finding: `${now}, below the lower limit of ${limit} while running steadily`,
    caution: CLOUD,
  };
}

function spark({ ignitionEnergy }: DustData): ScreeningLine {
  const item = 'ignition by sparks';
  if (ignitionEnergy === undefined) return unknown(item, 'minimum ignition energy', OWN);
  return {
    item,
    standing: 'hazard',
    finding: `minimum ignition energy ${(1000 * ignitionEnergy).toPrecision(3)} mJ`,
    caution:
      'Earth and bond everything, people and bags too; which discharges matter is for a specialist to judge.',
  };
}

function friction({ part, speed }: { readonly part: string; readonly speed: number }): ScreeningLine {
  const { slow, fast } = FRICTION_SPEEDS;
  const item = `friction: ${part}`;
  const finding = `rim at ${speed.toFixed(1)} m/s`;
  if (speed < slow) {
    return {
      item,
      standing: 'to be judged',
      finding: `${finding}, below ${slow} m/s`,
      caution: 'Jammed or rubbing parts heat up at any speed.',
    };
  }
  return {
    item,
    standing: 'hazard',
    finding: `${finding}, ${speed < fast ? `above ${slow} m/s` : `above ${fast} m/s`}: contact or tramp metal can ignite a cloud`,
    caution: 'Keep metal out ahead of the feed; watch vibration and bearing temperature.',
  };
}

function hotCloud({ cloudTemperature }: DustData, air: number): ScreeningLine {
  const item = 'ignition of the cloud by heat';
  if (cloudTemperature === undefined) return unknown(item, 'ignition temperature of the cloud', OWN);
  return heat(item, cloudTemperature, air);
}

function hotLayer({ layerTemperature }: DustData, air: number): ScreeningLine {
  const item = 'ignition of deposits by heat';
  if (layerTemperature === undefined) return unknown(item, 'ignition temperature of a layer', OWN);
  return heat(item, layerTemperature, air);
}

const CELSIUS = 273.15;

function heat(item: string, ignition: number, air: number): ScreeningLine {
  const finding = `ignites at ${Math.round(ignition - CELSIUS)} °C; air leaves the mill at ${Math.round(air - CELSIUS)} °C`;
  return {
    item,
    standing: air >= ignition ? 'hazard' : 'to be judged',
    finding,
    caution: 'Surfaces, bearings and rubbing parts are far hotter than the air; thick deposits ignite lower.',
  };
}

function inerting({ oxygenLimit }: DustData): ScreeningLine {
  const item = 'inerting';
  if (oxygenLimit === undefined) return unknown(item, 'limiting oxygen concentration', OWN);
  return {
    item,
    standing: 'to be judged',
    finding: `limiting oxygen ${(100 * oxygenLimit).toFixed(1)} %`,
    caution:
      'Inert gas kills without warning: oxygen monitoring inside and in the room; the margin is for licensed practice.',
  };
}

/** One thing to have looked at. */
export interface SafetyQuestion {
  readonly item: string;
  readonly ask: string;
  readonly caution: string;
}

/** What to have looked at before powder runs; headings without design values. */
export const SAFETY_CHECKLIST: readonly SafetyQuestion[] = [
  {
    item: 'isolation',
    ask: 'How is an explosion kept from running through feed, product and air lines?',
    caution: 'A rotary airlock isolates only if it is certified for it and stops by itself.',
  },
  {
    item: 'venting',
    ask: 'Where do vents open, and who can stand there?',
    caution:
      'Vents throw flame far; indoors they need flame-arresting. Areas are designed by licensed practice.',
  },
  {
    item: 'suppression or strength',
    ask: 'Is a vessel suppressed, or does it hold the explosion?',
    caution: 'Neither can be read from a data sheet of the mill alone.',
  },
  {
    item: 'inerting',
    ask: 'If inert gas is used: is oxygen measured, with a stop that needs no one?',
    caution: 'Inert gas suffocates. Leaks and opened doors end the protection at once.',
  },
  {
    item: 'interlocks',
    ask: 'Does feed stop on low air, high temperature, vibration, overload, lost speed and full collection?',
    caution: 'Start air, wheel, rotor, feed in this order; stop in reverse; test the chain before powder.',
  },
  {
    item: 'doors and run-down',
    ask: 'Do doors stay locked until every rotor stands still?',
    caution: 'A stop button does not stop a rotor; lock out and measure standstill before opening.',
  },
  {
    item: 'tramp material',
    ask: 'What keeps metal and stones out of the mill?',
    caution: 'One bolt is an ignition source and a missile.',
  },
  {
    item: 'earthing',
    ask: 'Are mill, ducts, bags, cages, drums and people bonded and measured?',
    caution: 'One insulated cage or bag clip is a capacitor.',
  },
  {
    item: 'housekeeping',
    ask: 'Where does dust settle in the room, and who removes it?',
    caution: 'The second explosion, of settled dust, kills more than the first.',
  },
];

/** The caution that stands on every page about dust and turning parts. */
export const SAFETY_CAUTION =
  'Screening only. Dust, rotating parts and vents can kill: test your own dust; local codes and licensed practice decide. Missing data is an unknown hazard.';
