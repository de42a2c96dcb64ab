import { sizeAt } from '../model/psd/curve.ts';
import type { PlantState, ProductStream } from '../plant/plant-state.ts';
import type { PresetInUse } from '../plant/presets.ts';
import { SAFETY_CAUTION, SAFETY_CHECKLIST } from '../plant/safety/checklist.ts';
import type { ScreeningLine } from '../plant/safety/plant-screening.ts';
import { gasFlow, humidityOf, solidsFlow } from '../plant/stream.ts';
import type { Solved } from '../scenario/outcome/quantity.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber as n, formatQuantity as q } from '../scenario/units/display.ts';
import { columnsOf } from './columns.ts';

/** One screen about what stands around the mill: the answer first. */
export function plantSummary(
  scenario: Scenario,
  solved: Solved,
  lines: readonly ScreeningLine[],
  presets: readonly PresetInUse[],
): string {
  const state = solved.plant!;
  const assumed = presets.filter(({ label }) => label === 'assumed').length;
  return [
    scenario.title,
    '',
    `${scenario.calibration ? 'With the calibrated model: ' : 'Uncalibrated estimate: '}${answer(state)}`,
    ...limits(state),
    '',
    columnsOf([['', 'under Pa', '°C', 'air kg/h', 'humidity g/kg', 'solids kg/h'], ...stationRows(state)]),
    '',
    ...units(state),
    '',
    columnsOf([['product', 'kg/h', 'share', 'x10 µm', 'x50 µm', 'x95 µm', 'water'], ...streamRows(state)]),
    '',
    heat(state),
    closure(state),
    '',
    ...state.warnings.map(({ message }) => `note: ${message}`),
    ...(presets.length > 0
      ? [
          `${presets.length} values of the plant are presets, ${assumed} of them assumed; \`--json\` lists every one with its source.`,
        ]
      : []),
    screeningInBrief(lines),
    SAFETY_CAUTION,
    '',
  ].join('\n');
}

function answer({ case: c, march, fan, plant }: PlantState): string {
  const { unit } = march.cyclone;
  const air = q(c.air.flow, 'm^3/h');
  const rise = `${q(fan.rise, 'Pa')} at ${q(fan.flow, 'm^3/h')}, ${q(fan.power, 'kW')} at its shaft`;
  const byFan =
    plant.fan?.speed === undefined
      ? `air held at ${air}; the fan must give ${rise}`
      : `the fan draws ${air} through the mill (${rise})`;
  return `${byFan}. The cyclone keeps ${n(100 * unit.collected)} % of the product (cut ${q(unit.cutSizes[0]!, 'um', 3)}), the filter the rest.`;
}

/** What is nearest its limit, of what has one. */
function limits({ march, feeder, fan, plant, moisture }: PlantState): string[] {
  const { unit: filter } = march.filter;
  const { lock } = march.cyclone;
  const shares: readonly (readonly [name: string, known: boolean, share: number])[] = [
    ['air-to-cloth ratio of the filter', filter.given, filter.airToCloth / plant.filter.airToCloth],
    ['pressure loss of the filter', filter.given, filter.pressureLoss / plant.filter.highestLoss],
    ['airlock under the cyclone', lock.given, lock.use],
    ['feeder', feeder.given, feeder.use],
    ['fan speed', plant.fan !== undefined && plant.fan.speed === undefined, fan.speed],
    ['fan motor', plant.fan?.motorPower !== undefined, fan.motorUse],
  ];
  const known = shares.filter(([, given]) => given);
  const most = known.reduce((worst, each) => (each[2] > worst[2] ? each : worst), ['', true, 0] as const);
  const nearest =
    known.length > 0
      ? `Nearest its limit, of what is given: ${most[0]}, at ${n(100 * most[2], 3)} %.`
      : 'No unit is given: every one is sized for this point, so none limits.';
  const { temperatureMargin: heat, humidityMargin: humidity, dewMargin: dew } = moisture;
  const parts = [
    Number.isNaN(heat)
      ? 'heat limit of the product not given'
      : `${n(heat, 3)} K below what the product stands`,
    Number.isNaN(humidity)
      ? 'critical humidity not given'
      : `stored humidity ${n(100 * humidity, 3)} points ${humidity < 0 ? '(above: it may cake)' : 'below where it cakes'}`,
    `coldest wall ${n(dew, 3)} K above the dew point`,
  ];
  return [nearest, `Product: ${parts.join('; ')}.`];
}

function stationRows({ march, case: c, fan }: PlantState): string[][] {
  const row = (
    name: string,
    under: number,
    temperature: number,
    air: number,
    humidity: number,
    solids: number,
  ) => [
    `  ${name}`,
    n(under, 4),
    n(temperature - 273.15, 3),
    n(air * 3600, 4),
    n(humidity * 1000, 3),
    n(solids * 3600, 3),
  ];
  const rows = march.stations.map(({ name, stream }) =>
    row(
      name,
      c.air.pressure - stream.pressure,
      stream.temperature,
      gasFlow(stream),
      humidityOf(stream),
      solidsFlow(stream.solids),
    ),
  );
  const last = march.fanInlet;
  return [
    ...rows,
    row(
      'behind the fan',
      c.air.pressure - last.pressure - fan.rise,
      fan.outletTemperature,
      gasFlow(last),
      humidityOf(last),
      solidsFlow(last.solids),
    ),
  ];
}

function units({ feeder, march, fan, plant }: PlantState): string[] {
  const { line } = march.conveying;
  const { feedLine } = march.intake;
  const { unit: cyclone, lock } = march.cyclone;
  const { unit: filter } = march.filter;
  const sized = (given: boolean) => (given ? '' : ' (sized for this point)');
  const lineOf = (of: typeof line) =>
    `${q(of.diameter, 'mm', 3)}${sized(of.given)}, ${n(of.velocity, 3)} m/s, ${n(of.saltationRatio, 3)} × saltation, loading ${n(of.loading, 3)}, ${q(of.pressureLoss, 'Pa', 3)}`;
  const speed = Number.isNaN(fan.speed)
    ? 'no curve given'
    : `at ${n(100 * fan.speed, 4)} % of its curve's speed`;
  return [
    `  feeder        ${feeder.law}, at ${n(100 * feeder.use, 3)} % of its highest rate${sized(feeder.given)}, rate spread ${n(100 * feeder.spread, 2)} %`,
    `  feed line     ${lineOf(feedLine)}`,
    `  mill, wheel   ${q(march.mill.loss, 'Pa', 3)} with load`,
    `  product line  ${lineOf(line)}`,
    `  cyclone       ${cyclone.count} × ${q(cyclone.diameter, 'mm', 3)}${sized(cyclone.given)} ${plant.cyclone.law}, inlet ${n(cyclone.inletVelocity, 3)} m/s, ${q(cyclone.pressureLoss, 'Pa', 3)}, ${n(100 * cyclone.thrownOut, 3)} % thrown out at the inlet`,
    `  airlock       ${q(lock.pocketVolume, 'L', 3)} a turn${sized(lock.given)}, at ${n(100 * lock.use, 3)} % of what it discharges, lets in ${q(lock.pocketLeakage + lock.clearanceLeakage, 'm^3/h', 3)}`,
    `  filter        ${filter.bags} bags, ${n(filter.area, 3)} m²${sized(filter.given)}, ${q(filter.airToCloth, 'm/min', 3)}, can velocity ${n(filter.canVelocity, 3)} m/s, ${q(filter.pressureLoss, 'Pa', 3)}`,
    `  fan           ${speed}`,
  ];
}

function streamRows({ streams, case: c }: PlantState): string[][] {
  const size = ({ curve }: ProductStream, share: number) => (curve ? n(sizeAt(curve, share) * 1e6, 3) : '–');
  const row = (name: string, stream: ProductStream) => [
    `  ${name}`,
    n(stream.rate * 3600, 4),
    `${n((100 * stream.rate) / c.settings.feedRate, 4)} %`,
    size(stream, 0.1),
    size(stream, 0.5),
    size(stream, 0.95),
    `${n(100 * stream.moisture, 3)} %`,
  ];
  return [
    row('cyclone', streams.cyclone),
    row('filter fines', streams.filter),
    row('blended', streams.blended),
  ];
}

function heat({ state, fan, march }: PlantState): string {
  const { rotorPower, wheelPower } = state.conditions;
  const lost = march.mill.heat + march.conveying.heat + march.cyclone.heat + march.filter.heat;
  return `  heat     rotor ${q(rotorPower, 'kW', 3)}, wheel ${q(wheelPower, 'kW', 3)}, fan ${q(fan.power, 'kW', 3)}; ${q(lost, 'kW', 3)} of it lost through walls`;
}

function closure({ closure: of }: PlantState): string {
  const worst = Math.max(...Object.values(of).map(Math.abs));
  return `  balance  of air, water, solids and energy closes to ${worst.toExponential(0)}`;
}

function screeningInBrief(lines: readonly ScreeningLine[]): string {
  const count = (standing: ScreeningLine['standing']) =>
    lines.filter((line) => line.standing === standing).length;
  return `Dust and turning parts: ${count('hazard')} hazards, ${count('unknown hazard')} unknown hazards, ${count('to be judged')} to be judged; \`--safety\` shows every line with its caution.`;
}

/** The screening in full: every line with its caution, and what to ask before powder runs. */
export function safetyText(
  scenario: Scenario,
  { lines }: { readonly lines: readonly ScreeningLine[] },
): string {
  const rank = { hazard: 0, 'unknown hazard': 1, 'to be judged': 2 } as const;
  const sorted = lines.toSorted((a, b) => rank[a.standing] - rank[b.standing]);
  const block = ({ standing, item, finding, caution }: ScreeningLine) => [
    `${standing.toUpperCase()}: ${item} — ${finding}`,
    `    ${caution}`,
  ];
  return [
    scenario.title,
    '',
    SAFETY_CAUTION,
    '',
    ...sorted.flatMap(block),
    '',
    'To ask before powder runs:',
    ...SAFETY_CHECKLIST.flatMap(({ item, ask, caution }) => [`  ${item}: ${ask}`, `    ${caution}`]),
    '',
  ].join('\n');
}
