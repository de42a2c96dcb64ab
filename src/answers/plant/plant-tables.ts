import { sizeAt } from '../../model/psd/curve.ts';
import type { PlantState, ProductStream } from '../../plant/plant-state.ts';
import { gasFlow, humidityOf, type Stream, solidsFlow } from '../../plant/stream.ts';
import { formatNumber as n, formatQuantity as q, toShown } from '../../scenario/units/display.ts';
import { type AnswerTable, columns } from '../document.ts';
import type { DotsInput } from '../dots.ts';

/** A place on the way of the air, the one behind the fan last. */
interface Place {
  readonly name: string;
  readonly under: number;
  readonly temperature: number;
  readonly stream: Stream;
}

function placesOf({ march, case: c, fan }: PlantState): Place[] {
  const last = march.fanInlet;
  return [
    ...march.stations.map(({ name, stream }) => ({
      name,
      under: c.air.pressure - stream.pressure,
      temperature: stream.temperature,
      stream,
    })),
    {
      name: 'behind the fan',
      under: c.air.pressure - last.pressure - fan.rise,
      temperature: fan.outletTemperature,
      stream: last,
    },
  ];
}

/** State of the air at every place from the opening to behind the fan. */
export function airTable(state: PlantState): AnswerTable {
  return {
    columns: columns(
      'place',
      'below outside, Pa',
      'temperature, °C',
      'air, kg/h',
      'humidity, g/kg',
      'solids, kg/h',
    ),
    rows: placesOf(state).map(({ name, under, temperature, stream }) => [
      name,
      n(under, 4),
      n(toShown(temperature, 'degC'), 3),
      n(toShown(gasFlow(stream), 'kg/h'), 4),
      n(toShown(humidityOf(stream), 'g/kg'), 3),
      n(toShown(solidsFlow(stream.solids), 'kg/h'), 3),
    ]),
  };
}

/** Pressure and temperature along the way of the air. */
export function airFigure(state: PlantState): DotsInput {
  const places = placesOf(state);
  const [start] = places;
  const hottest = places.reduce((most, each) => (each.temperature > most.temperature ? each : most));
  const lowest = places.reduce((most, each) => (each.under > most.under ? each : most));
  const { highestTemperature } = state.plant.product;
  const limit =
    highestTemperature === undefined
      ? {}
      : {
          limit: {
            at: toShown(highestTemperature, 'degC'),
            words: `product limit ${q(highestTemperature, 'degC', 3)}`,
          },
        };
  return {
    rows: places.map(({ name }) => name),
    joined: true,
    panels: [
      { measure: { name: 'below outside', unit: 'Pa' }, dots: places.map(({ under }) => ({ value: under })) },
      {
        measure: { name: 'temperature', unit: '°C' },
        dots: places.map(({ temperature }) => ({ value: toShown(temperature, 'degC') })),
        ...limit,
      },
    ],
    caption: `From the opening at the top to behind the fan at the bottom: the air is furthest below the outside pressure at the ${lowest.name} (${q(lowest.under, 'Pa', 3)}) and hottest ${hottest === start ? 'outside' : hottest.name.startsWith('behind') ? hottest.name : `at the ${hottest.name}`} (${q(hottest.temperature, 'degC', 3)}).`,
  };
}

/** Every unit in the order the air meets it, with its size and load. */
export function unitsTable({ feeder, march, fan, plant }: PlantState): AnswerTable {
  const { feedLine } = march.intake;
  const { unit: cyclone, lock } = march.cyclone;
  const { unit: filter } = march.filter;
  const sized = (given: boolean) => (given ? '' : ' (sized for this point)');
  const lineOf = (of: typeof feedLine) => [
    `${q(of.diameter, 'mm', 3)}${sized(of.given)}`,
    `${n(of.velocity, 3)} m/s, ${n(of.saltationRatio, 3)} × saltation, ${n(of.loading, 3)} kg/kg, ${q(of.pressureLoss, 'Pa', 3)}`,
  ];
  const speed = Number.isNaN(fan.speed)
    ? 'no curve given'
    : `at ${n(100 * fan.speed, 4)} % of its curve's speed`;
  return {
    columns: columns('unit', 'size', 'at this point'),
    rows: [
      [
        'feeder',
        `${feeder.law}${sized(feeder.given)}`,
        `at ${n(100 * feeder.use, 3)} % of its highest rate, rate varies by ${n(100 * feeder.spread, 2)} %`,
      ],
      ['feed line', ...lineOf(feedLine)],
      ['mill and wheel', '', `${q(march.mill.loss, 'Pa', 3)} with load`],
      ['product line', ...lineOf(march.conveying.line)],
      [
        'cyclone',
        `${cyclone.count} × ${q(cyclone.diameter, 'mm', 3)} ${plant.cyclone.law}${sized(cyclone.given)}`,
        `inlet ${n(cyclone.inletVelocity, 3)} m/s, ${q(cyclone.pressureLoss, 'Pa', 3)}, ${n(100 * cyclone.thrownOut, 3)} % separated at the inlet by mass loading`,
      ],
      [
        'airlock',
        `${q(lock.pocketVolume, 'L', 3)} a turn${sized(lock.given)}`,
        `at ${n(100 * lock.use, 3)} % of what it discharges, lets in ${q(lock.pocketLeakage + lock.clearanceLeakage, 'm^3/h', 3)}`,
      ],
      [
        'filter',
        `${filter.bags} bags, ${n(filter.area, 3)} m²${sized(filter.given)}`,
        `${q(filter.airToCloth, 'm/min', 3)}, can velocity ${n(filter.canVelocity, 3)} m/s, ${q(filter.pressureLoss, 'Pa', 3)}`,
      ],
      ['fan', speed, `${q(fan.rise, 'Pa')} at ${q(fan.flow, 'm^3/h')}, ${q(fan.power, 'kW', 3)}`],
    ],
  };
}

/** Where the product goes: cyclone, filter, and both together. */
export function productTable({ streams, case: c }: PlantState): AnswerTable {
  const size = ({ curve }: ProductStream, share: number) =>
    curve ? n(toShown(sizeAt(curve, share), 'um'), 3) : '–';
  const row = (name: string, stream: ProductStream) => [
    name,
    n(toShown(stream.rate, 'kg/h'), 4),
    n((100 * stream.rate) / c.settings.feedRate, 4),
    size(stream, 0.1),
    size(stream, 0.5),
    size(stream, 0.95),
    n(100 * stream.moisture, 3),
  ];
  return {
    columns: columns('product', 'rate, kg/h', 'share, %', 'x10, µm', 'x50, µm', 'x95, µm', 'water, %'),
    rows: [
      row('cyclone', streams.cyclone),
      row('filter fines', streams.filter),
      row('blended', streams.blended),
    ],
  };
}
