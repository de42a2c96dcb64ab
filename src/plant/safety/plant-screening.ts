import { type DustData, dustClass, FRICTION_SPEEDS } from './dust-data.ts';

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
interface DustPlace {
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

/** Shares of the lower explosible limit a cloud is kept below by concentration alone (eq. P24; `practice`, from memory: NFPA 69, EN 14491). */
const SHARE_OF_LIMIT = { usual: 0.25, controlled: 0.5 } as const;
/** Highest surface and air temperature over the cloud's minimum ignition temperature, both in °C (eq. P24; `practice`, from memory: EN 1127-1). */
const CLOUD_SHARE = 2 / 3;
/** How far surfaces and air stay below the ignition temperature of a 5 mm layer [K] (eq. P24; `practice`, from memory: IEC 60079-14). */
const LAYER_MARGIN = 75;
const MARGINS = 'common practice';

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
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
    return unknown(item, `${now}; lower explosible limit`, `${OWN} ${CLOUD}`);
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
  const share = `${percent(c / lowerLimit)} of the lower limit of ${limit}`;
  const { usual, controlled } = SHARE_OF_LIMIT;
  if (c >= controlled * lowerLimit) {
    return {
      item,
      standing: 'hazard',
      finding: `${now}, ${share}: above the ${percent(controlled)} allowed with monitoring and automatic control (${MARGINS})`,
      caution: CLOUD,
    };
  }
  if (c >= usual * lowerLimit) {
    return {
      item,
      standing: 'hazard',
      finding: `${now}, ${share}: above the ${percent(usual)} allowed without monitoring and automatic control (${MARGINS})`,
      caution: CLOUD,
    };
  }
  return {
    item,
    standing: 'to be judged',
    finding: `${now}, ${share}, below ${percent(usual)} (${MARGINS})`,
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
  const limit = CELSIUS + CLOUD_SHARE * (cloudTemperature - CELSIUS);
  return heat(item, cloudTemperature, air, limit, 'two thirds of it in °C');
}

function hotLayer({ layerTemperature }: DustData, air: number): ScreeningLine {
  const item = 'ignition of deposits by heat';
  if (layerTemperature === undefined) return unknown(item, 'ignition temperature of a layer', OWN);
  return heat(
    item,
    layerTemperature,
    air,
    layerTemperature - LAYER_MARGIN,
    `${LAYER_MARGIN} K below a 5 mm layer`,
  );
}

const CELSIUS = 273.15;

/** Air against the highest temperature that surfaces and air may have. */
function heat(item: string, ignition: number, air: number, limit: number, margin: string): ScreeningLine {
  const celsius = (temperature: number) => `${Math.round(temperature - CELSIUS)} °C`;
  const finding = `ignites at ${celsius(ignition)}, so surfaces and air stay below ${celsius(limit)} (${margin}, ${MARGINS}); the hottest air is at ${celsius(air)}`;
  return {
    item,
    standing: air >= limit ? 'hazard' : 'to be judged',
    finding: `${finding}${air >= limit ? ', at or above that' : ''}`,
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
