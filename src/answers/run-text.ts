import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import { toCase } from '../scenario/operating-point.ts';
import type { Outcome } from '../scenario/outcome/outcome.ts';
import type { SpecResult } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, labelOf, toShown } from '../scenario/units/display.ts';

/** One screen about a point: the answer first, then what it is made of. */
export function runSummary(scenario: Scenario, outcome: Outcome): string {
  const lines = [scenario.title, '', `${basis(outcome)}${answer(scenario, outcome)}`, ''];
  if (outcome.spec.length > 0 && outcome.status === 'steady')
    lines.push(...specTable(scenario, outcome.spec), '');
  lines.push(...body(outcome));
  if (outcome.warnings.length > 0)
    lines.push('', ...outcome.warnings.map(({ message }) => `note: ${message}`));
  const assumed = outcome.assumptions.filter(({ label }) => label === 'assumed').length;
  lines.push(
    '',
    `${assumed} coefficients in use are assumed; \`check\` lists every one with its source.`,
    SAFETY_CAUTION,
    '',
  );
  return lines.join('\n');
}

function basis(outcome: Outcome): string {
  return outcome.calibration
    ? 'With the calibrated model: '
    : 'Uncalibrated estimate, for planning a first trial: ';
}

/** One sentence an engineer can read out. */
function answer(scenario: Scenario, outcome: Outcome): string {
  const where = settingsInWords(scenario);
  if (outcome.status === 'choked') {
    return `${where}: the mill chokes (${outcome.reason}): ${outcome.message}. It would choke from about ${formatNumber(outcome.loop.feedAtChoke_kg_per_h!)} kg/h.`;
  }
  const failed = outcome.spec.filter(({ met }) => !met);
  const x95 = outcome.product.x95_um as number;
  if (outcome.spec.length === 0) return `${where}: x95 ${formatNumber(x95)} µm. The scenario asks no spec.`;
  const nearest = tightest(outcome.spec);
  const verdict =
    failed.length === 0
      ? `meets the whole spec; ${marginInWords(scenario, nearest)} is nearest its limit`
      : `does not meet the spec: ${failed.map((result) => `${result.text} is missed by ${missedBy(scenario, result)}`).join('; ')}`;
  return `${where}: x95 ${formatNumber(x95)} µm; it ${verdict}.`;
}

function settingsInWords(scenario: Scenario): string {
  const { settings } = toCase(scenario);
  const rotor = `rotor ${formatNumber(toShown(settings.rotorSpeed, 'rpm'))} rpm`;
  const wheel = `wheel ${scenario.settings.wheel} ${formatNumber(toShown(settings.wheelSpeed, 'rpm'))} rpm`;
  return `${rotor}, ${wheel}, ${formatNumber(toShown(settings.feedRate, 'kg/h'))} kg/h`;
}

/** The line whose margin is smallest against its limit. */
function tightest(spec: readonly SpecResult[]): SpecResult {
  const share = ({ margin, limit }: SpecResult) => margin / Math.max(Math.abs(limit), 1e-12);
  return spec.reduce((least, each) => (share(each) < share(least) ? each : least));
}

function unitOf(scenario: Scenario, result: SpecResult): string {
  const unit = scenario.spec.find(({ text }) => text === result.text)?.shownIn ?? '1';
  const shown = labelOf(unit);
  return shown === '' ? '' : ` ${shown}`;
}

function marginInWords(scenario: Scenario, result: SpecResult): string {
  return `${result.text} (margin ${formatNumber(result.margin)}${unitOf(scenario, result)})`;
}

function missedBy(scenario: Scenario, result: SpecResult): string {
  return `${formatNumber(-result.margin)}${unitOf(scenario, result)}`;
}

function specTable(scenario: Scenario, spec: readonly SpecResult[]): string[] {
  const width = Math.max(5, ...spec.map(({ text }) => text.length));
  const spread = spec.some(({ probability }) => probability !== null);
  const head = `  ${'asked'.padEnd(width)}  ${'got'.padStart(12)}  ${'margin'.padStart(12)}  met${spread ? '  chance' : ''}`;
  return [
    head,
    ...spec.map((result) => {
      const unit = unitOf(scenario, result);
      const got = `${formatNumber(result.value)}${unit}`.padStart(12);
      const margin = `${formatNumber(result.margin)}${unit}`.padStart(12);
      const chance = result.probability === null ? '' : `  ${formatNumber(100 * result.probability, 3)} %`;
      return `  ${result.text.padEnd(width)}  ${got}  ${margin}  ${result.met ? 'yes' : 'NO '}${chance}`.trimEnd();
    }),
  ];
}

function body(outcome: Outcome): string[] {
  if (outcome.status === 'choked')
    return ['No steady state: lower the feed rate, slow the wheel, or speed up the rotor.'];
  const { product, loop, rotor, wheel, air, energy } = outcome;
  const n = (value: unknown) => formatNumber(value as number);
  return [
    `  product   x10 ${n(product.x10_um)}  x50 ${n(product.x50_um)}  x90 ${n(product.x90_um)}  x97 ${n(product.x97_um)} µm, span ${n(product.span)}`,
    `  wheel     cut ${n(wheel.cutSize_um)} µm, sharpness ${n(wheel.sharpness)}, rim ${n(wheel.rimSpeed_m_per_s)} m/s, ${n(wheel.power_kW)} kW`,
    `  loop      ${n(loop.passes)} passes, ${n(loop.loading_kg_per_kg)} kg solids per kg air, ${n(loop.residence_s)} s, chokes from about ${n(loop.feedAtChoke_kg_per_h)} kg/h`,
    `  rotor     ${n(rotor.tipSpeed_m_per_s)} m/s, ${n(rotor.power_kW)} kW (idle ${n(rotor.idlePower_kW)}), motor at ${n(100 * rotor.motorLoad!)} %`,
    `  air       outlet ${n(air.outletTemperature_C)} °C, ${n(air.flowAtOutlet_m3_per_h)} m³/h, ${n(air.productLoading_kg_per_m3)} kg product per m³`,
    `  energy    ${n(energy.specific_kWh_per_t)} kWh/t, of it grinding ${n(energy.net_kWh_per_t)}`,
  ];
}
