import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import { type Outcome, outcomeOf } from '../scenario/outcome/outcome.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber } from '../scenario/units/display.ts';
import { withSpread } from '../trials/spread.ts';
import { type BlendAnswer, blendAnswer } from './blend/blend-answer.ts';
import { blendKeys, blendSection } from './blend/blend-section.ts';
import { cellText, columnHead } from './document.ts';
import { unconfirmedWords } from './evidence-sentence.ts';
import { type GradeAtPoint, gradesAtPoint, gradesAtPointTable } from './grades/grades-at-point.ts';
import { asInFile } from './recommend.ts';
import { type Answer, answerOf } from './report-answer.ts';
import { sentence } from './text.ts';
import { textTable } from './text-table.ts';

/** What `run` answers: the verdict in words and numbers, with what the point is made of. */
export interface RunAnswer {
  readonly scenario: Scenario;
  readonly outcome: Outcome;
  readonly answer: Answer;
  /** Each grade of the file at this point; none where the file has none. */
  readonly grades: readonly GradeAtPoint[];
  /** Component by component; absent of one component, or where the mill chokes. */
  readonly blend?: BlendAnswer;
}

/** The answer of `run`: the scenario's own operating point, with the bands of its calibration where it has one. */
export function runAnswer(scenario: Scenario): RunAnswer {
  const own = asInFile(scenario);
  const outcome = withSpread(scenario, outcomeOf(scenario, own.standing.point));
  const blend = blendAnswer(scenario);
  return {
    scenario,
    outcome,
    answer: answerOf(own, scenario),
    grades: gradesAtPoint(scenario),
    ...(blend ? { blend } : {}),
  };
}

/** `run --json`. */
export function runJson({ outcome, answer, grades, blend }: RunAnswer): string {
  const named = Object.fromEntries(grades.map(({ name, verdict }) => [name, { verdict }]));
  const own = grades.length > 0 ? { grades: named } : {};
  const blended = blend ? { blend: blendKeys(blend) } : {};
  return `${JSON.stringify({ ...outcome, verdict: answer.verdict, ...own, ...blended }, null, 2)}\n`;
}

/** One screen about a point: the answer first, then what it is made of. */
export function runText({ scenario, outcome, answer, grades, blend }: RunAnswer): string {
  const lines = [
    scenario.title,
    '',
    `${answer.opening} ${answer.sentence}`,
    ...answer.second.map(sentence),
    '',
  ];
  if (answer.spec.length > 0) lines.push(...specTable(answer), '');
  if (grades.length > 0) lines.push(...gradeLines(grades), '');
  lines.push(...body(outcome));
  if (blend) lines.push('', ...blendLines(blend));
  if (outcome.warnings.length > 0)
    lines.push('', ...outcome.warnings.map(({ message }) => `note: ${message}`));
  lines.push(
    '',
    `${unconfirmedWords(scenario)}; \`check\` lists every one with its source.`,
    SAFETY_CAUTION,
    '',
  );
  return lines.join('\n');
}

function specTable({ spec }: Answer): string[] {
  const width = Math.max(8, ...spec.map(({ required }) => required.length));
  const columns = ['value', 'margin'].map((head) => head.padStart(12)).join('  ');
  const head = `  ${'required'.padEnd(width)}  ${columns}  met  ${'plausible range'.padEnd(18)}  sets that meet it`;
  const rows = spec.map(({ required, got, margin, unit, met, range, probability }) => {
    const cell = (number: string) => (number === '–' ? number : `${number} ${unit}`.trim()).padStart(12);
    const plausible = range === '' ? '–' : `${range} ${unit}`.trim();
    return `  ${required.padEnd(width)}  ${cell(got)}  ${cell(margin)}  ${met ? 'yes' : 'NO '}  ${plausible.padEnd(18)}  ${probability} %`;
  });
  return [head, ...rows];
}

function gradeLines(grades: readonly GradeAtPoint[]): string[] {
  const { columns, rows } = gradesAtPointTable(grades);
  const table = textTable([columns.map(columnHead), ...rows.map((row) => row.map(cellText))]);
  return ['Grade by grade, at these settings:', ...table.split('\n').map((line) => `  ${line}`)];
}

function blendLines(blend: BlendAnswer): string[] {
  const { heading, sentences = [], tables = [] } = blendSection(blend);
  const text = tables.flatMap(({ caption, columns, rows }) => [
    ...(caption ? [`  ${caption}:`] : []),
    ...textTable([columns.map(columnHead), ...rows.map((row) => row.map(cellText))])
      .split('\n')
      .map((line) => `  ${line}`),
  ]);
  return [`${heading}:`, ...text, ...sentences];
}

function body(outcome: Outcome): string[] {
  if (outcome.status === 'choked') return [];
  const { product, loop, rotor, wheel, air, energy } = outcome;
  const n = (value: unknown) => formatNumber(value as number);
  return [
    `  product   x10 ${n(product.x10_um)}  x50 ${n(product.x50_um)}  x90 ${n(product.x90_um)}  x97 ${n(product.x97_um)} µm, span ${n(product.span)}`,
    `  wheel     cut ${n(wheel.cutSize_um)} µm, sharpness ${n(wheel.sharpness)}, rim ${n(wheel.rimSpeed_m_per_s)} m/s, ${n(wheel.power_kW)} kW`,
    `  loop      ${n(loop.passes)} passes, ${n(loop.loading_kg_per_kg)} kg solids per kg air, ${n(loop.residence_s)} s, chokes from about ${formatNumber(loop.feedAtChoke_kg_per_h as number, 3)} kg/h`,
    `  rotor     ${n(rotor.tipSpeed_m_per_s)} m/s, ${n(rotor.power_kW)} kW (idle ${n(rotor.idlePower_kW)}), motor at ${n(100 * rotor.motorLoad!)} %`,
    `  air       outlet ${n(air.outletTemperature_C)} °C, ${n(air.flowAtOutlet_m3_per_h)} m³/h, ${n(air.productLoading_kg_per_m3)} kg product per m³`,
    `  energy    ${n(energy.specific_kWh_per_t)} kWh/t, of it grinding ${n(energy.net_kWh_per_t)}`,
  ];
}
