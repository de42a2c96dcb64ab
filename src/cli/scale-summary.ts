import { openingOf } from '../answers/verdict-words.ts';
import { sizeAt } from '../model/psd/curve.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import type { Solved } from '../scenario/outcome/quantity.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { labelOf, formatNumber as n, formatQuantity as q, toShown } from '../scenario/units/display.ts';
import { UNKNOWNS } from '../search/scale/bands.ts';
import { SAME_PRODUCT, type Scaled, type ScaledPoint } from '../search/scale/scale.ts';
import { NOT_COMPUTED, type Unscaled, unscaledOf } from '../search/scale/what-does-not-scale.ts';
import { columnsOf } from './columns.ts';

/** What `scale` shows. */
export interface Shown {
  readonly scenario: Scenario;
  readonly other: Scenario;
  readonly from: Solved;
  readonly scaled: Scaled;
  readonly taken: readonly string[];
}

/** Air per installed rotor power that is usual [m³/h per kW] (`practice`: notebooks/checked-from-outside.md). */
const USUAL_AIR = [90, 140] as const;
const HOUR = 3600;

/** One screen: the answer, both points beside each other, what limits, what does not scale. */
export function scaleText({ scenario, other, from, scaled, taken }: Shown): string {
  const point = scaled.most ?? scaled.same;
  return [
    scenario.title,
    '',
    answer(scenario, other, scaled),
    ...(point ? body(from, scaled) : []),
    '',
    ...(point ? notScaled(from, point) : []),
    ...notes(scaled, taken),
    SAFETY_CAUTION,
    '',
  ].join('\n');
}

function settingsOf({ case: c }: Solved, bands?: ScaledPoint['bands']): string {
  const within = (half: number | undefined) => (half === undefined ? '' : ` ± ${n(100 * half, 2)} %`);
  const { settings } = c;
  return `rotor ${q(settings.rotorSpeed, 'rpm')}${within(bands?.rotorSpeed)}, wheel ${c.wheelName} ${q(settings.wheelSpeed, 'rpm')}${within(bands?.wheelSpeed)}, air ${q(c.air.flow, 'm^3/h')}`;
}

function answer(scenario: Scenario, other: Scenario, { same, most, stoppedBy }: Scaled): string {
  const basis = openingOf(scenario).replace(/:$/, '');
  const name = other.machine.name;
  if (!most) {
    const why = same ? `${stoppedBy.name} at ${n(100 * stoppedBy.use, 3)} % of its limit` : 'it chokes';
    return `${basis}: ${name} does not give this product within its limits at any rate looked at; nearest, ${why}.`;
  }
  const rate = q(most.case.settings.feedRate, 'kg/h');
  const stop = Number.isFinite(stoppedBy.use) ? `limited by ${stoppedBy.name}` : 'limited by choking';
  const fits =
    most.difference.worst <= SAME_PRODUCT
      ? 'the same product'
      : `the nearest product (off by ${n(100 * most.difference.worst, 2)} %)`;
  return `${basis}: ${name} makes ${fits} at up to ${rate}, ${stop}: ${settingsOf(most.solved, most.bands)}.`;
}

function body(from: Solved, { same, most }: Scaled): string[] {
  const columns: [string, Solved, ScaledPoint | undefined][] = [
    ['this machine', from, undefined],
    ...(same ? [['same solids per air', same.solved, same] as [string, Solved, ScaledPoint]] : []),
    ...(most ? [['highest rate', most.solved, most] as [string, Solved, ScaledPoint]] : []),
  ];
  const row = (name: string, of: (solved: Solved, point: ScaledPoint | undefined) => string) => [
    `  ${name}`,
    ...columns.map(([, solved, point]) => of(solved, point)),
  ];
  const at = (s: Solved) => s.state.conditions;
  const off = (name: 'x50' | 'x95' | 'x97') =>
    row(`${name} µm`, (s, p) => {
      const size = n(1e6 * percentile(s, name), 4);
      return p ? `${size} (${signed(p.difference.judged[name])})` : size;
    });
  return [
    '',
    columnsOf([
      ['', ...columns.map(([name]) => name)],
      row('feed kg/h', (s) => n(s.case.settings.feedRate * HOUR, 4)),
      row('rotor rpm', (s) => n(60 * s.case.settings.rotorSpeed, 5)),
      row('tip speed m/s', (s) => n(at(s).tipSpeed, 3)),
      row('wheel rpm', (s) => n(60 * s.case.settings.wheelSpeed, 5)),
      row('air m³/h', (s) => n(s.case.air.flow * HOUR, 4)),
      off('x50'),
      off('x95'),
      off('x97'),
      row('largest ΔQ', (_, p) => (p ? `${n(100 * p.difference.curve, 2)} %` : '')),
      row('rotor kW', (s) => n(at(s).rotorPower / 1000, 3)),
      row('wheel kW', (s) => n(at(s).wheelPower / 1000, 3)),
      row('kWh/t', (s) => n(at(s).rotorPower / s.case.settings.feedRate / HOUR, 3)),
      row('outlet °C', (s) => n(at(s).temperature - 273.15, 3)),
      row('nearest limit', (_, p) => (p ? `${p.limit.name} ${n(100 * p.limit.use, 3)} %` : '')),
    ]),
    ...bandLines(same ?? most),
  ];
}

function percentile({ curve }: Solved, name: 'x50' | 'x95' | 'x97'): number {
  return sizeAt(curve, Number(name.slice(1)) / 100);
}

function signed(share: number): string {
  const text = n(100 * Math.abs(share), 2);
  return `${share < 0 ? '−' : '+'}${text} %`;
}

function bandLines(point: ScaledPoint | undefined): string[] {
  if (!point) return [];
  const { bands } = point;
  const pct = (half: number) => `± ${n(100 * half, 2)} %`;
  return [
    '',
    `95 % bands: set blind, x50 ${pct(bands.x50)}, x95 ${pct(bands.x95)}; adjusted to the product, wheel speed ${pct(bands.wheelSpeed)}, rotor speed ${pct(bands.rotorSpeed)}, rotor power ${pct(bands.rotorPower)}.`,
    `They come from assumed spreads of ${UNKNOWNS.map(({ name, spread }) => `${name} ${n(100 * spread)} %`).join(', ')}.`,
  ];
}

function notScaled(from: Solved, point: ScaledPoint): string[] {
  const text = ({ what, from: before, to, shownIn, why }: Unscaled) => {
    const unit = labelOf(shownIn);
    return `  ${what}: ${n(toShown(before, shownIn), 3)} → ${n(toShown(to, shownIn), 3)}${unit === '' ? '' : ` ${unit}`} (${why})`;
  };
  return [
    'Not the same although the product is:',
    ...unscaledOf(from, point.solved).map(text),
    ...NOT_COMPUTED.map((line) => `  ${line}`),
    '',
  ];
}

function notes(scaled: Scaled, taken: readonly string[]): string[] {
  const lines: string[] = [];
  const point = scaled.most ?? scaled.same;
  if (point) {
    const air = (point.case.air.flow * HOUR) / (point.case.rotor.motor.power / 1000);
    const [least, most] = USUAL_AIR;
    if (air < least || air > most)
      lines.push(
        `note: ${n(air, 3)} m³/h of air per installed kW; usual are ${least} to ${most}: check the fan, or give --air`,
      );
    if (point.difference.worst > SAME_PRODUCT)
      lines.push('note: no speeds of this machine give the whole curve again; the nearest is shown');
  }
  if (taken.length > 0)
    lines.push(
      `note: ${taken.length} coefficients are taken over from the first machine, as the other has none of its own`,
    );
  return lines;
}

/** `scale --json`. */
export function scaleJson({ other, from, scaled, taken }: Shown) {
  const point = scaled.most ?? scaled.same;
  return {
    machine: other.machine.name,
    from: pointJson(from),
    sameLoading: scaled.same ? scaledJson(scaled.same) : null,
    highestRate: scaled.most ? scaledJson(scaled.most) : null,
    stoppedBy: scaled.stoppedBy,
    notScaled: point
      ? unscaledOf(from, point.solved).map(({ what, why, shownIn, from: before, to }) => ({
          what,
          why,
          unit: shownIn,
          from: toShown(before, shownIn),
          to: toShown(to, shownIn),
        }))
      : [],
    notComputed: NOT_COMPUTED,
    assumedSpreads: UNKNOWNS.map(({ name, spread, source }) => ({ name, spread, label: 'assumed', source })),
    takenOver: taken,
    caution: SAFETY_CAUTION,
  };
}

function pointJson(solved: Solved) {
  const { case: c, state } = solved;
  const { conditions } = state;
  return {
    rotorSpeed_rpm: toShown(c.settings.rotorSpeed, 'rpm'),
    wheel: c.wheelName,
    wheelSpeed_rpm: toShown(c.settings.wheelSpeed, 'rpm'),
    feedRate_kg_per_h: toShown(c.settings.feedRate, 'kg/h'),
    airFlow_m3_per_h: toShown(c.air.flow, 'm^3/h'),
    x50_um: toShown(percentile(solved, 'x50'), 'um'),
    x95_um: toShown(percentile(solved, 'x95'), 'um'),
    x97_um: toShown(percentile(solved, 'x97'), 'um'),
    edges_um: Array.from(solved.curve.edges, (edge) => toShown(edge, 'um')),
    undersize: Array.from(solved.curve.undersize),
    tipSpeed_m_per_s: conditions.tipSpeed,
    rotorPower_kW: toShown(conditions.rotorPower, 'kW'),
    wheelPower_kW: toShown(conditions.wheelPower, 'kW'),
    specific_kWh_per_t: toShown(conditions.rotorPower / c.settings.feedRate, 'kWh/t'),
    outletTemperature_C: toShown(conditions.temperature, 'degC'),
    feedAtChoke_kg_per_h: toShown(state.feedAtChoke, 'kg/h'),
  };
}

function scaledJson({ solved, difference, limits, limit, bands }: ScaledPoint) {
  return { ...pointJson(solved), difference, limits, limit, bands };
}
