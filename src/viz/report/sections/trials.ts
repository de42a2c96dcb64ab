import type { AnswerTable } from '../../../answers/document.ts';
import { together, words } from '../../../answers/text.ts';
import { nameInWords, requirementWords } from '../../../answers/words.ts';
import type { Scenario } from '../../../scenario/scenario.ts';
import { formatNumber, formatQuantity } from '../../../scenario/units/display.ts';
import { answerTable } from '../../html/answer-body.ts';
import { tableHtml } from '../../html/figure.ts';
import { type Html, html } from '../../html/template.ts';

/** What the trial part shows, already in tables and figures. */
interface TrialParts {
  readonly scenario: Scenario;
  readonly runs: Parameters<typeof tableHtml>[0];
  readonly target: AnswerTable;
  readonly balance: Parameters<typeof tableHtml>[0];
  readonly energy: Parameters<typeof tableHtml>[0];
  readonly flags: readonly string[];
  readonly curves: readonly Html[];
  readonly count: number;
}

const LONGEST = 200;

/** What a test centre hands over: aim, material, set-up, runs, curves, balance, energy, cautions; the answer stands above. */
export function trialsSection(parts: TrialParts): Html {
  const { scenario, runs, target, balance, energy, flags, curves, count } = parts;
  return html`<section id="trials">
<h2>The trials</h2>
<h3>Aim</h3>
<p>${together(aimOf(scenario))}</p>
<h3>Material and set-up</h3>
<dl class="facts">${setUp(scenario).map(([name, value]) => html`<div><dt>${name}</dt><dd><bdi>${together(value)}</bdi></dd></div>`)}</dl>
<h3>Runs</h3>
${tableHtml(runs, `${count} ${count === 1 ? 'run' : 'runs'}: settings as set, readings as taken; – was not measured`)}
${flags.length > 0 ? html`<ul>${flags.map((flag) => html`<li><bdi>${flag}</bdi></li>`)}</ul>` : undefined}
<h3>Against the target</h3>
${scenario.spec.length > 0 ? answerTable(target, 'Against the target') : html`<p>The file names no spec.</p>`}
${curves.length > 0 ? curves : html`<p>No run has a size curve.</p>`}
<h3>Mass balance</h3>
${balance.rows.length > 0 ? tableHtml(balance, 'Feed against product and filter; reconciled by least adjustment within the errors of weighing', (row, c) => c === row.length - 1 && row[c]!.startsWith('no')) : html`<p>No run has all of feed, product and filter weighed, so no balance can be drawn.</p>`}
<h3>Energy</h3>
${energy.rows.length > 0 ? tableHtml(energy, 'Measured power over feed rate') : html`<p>No run has its power measured.</p>`}
<h3>Assumptions and cautions of the trials</h3>
<ul>
<li>${scenario.calibration ? 'The model was fitted to trials; the settings recommended include the uncertainty that is left.' : 'The model was not fitted to these runs: fit FILE --trials LOG determines its coefficients, and the settings recommended then change.'}</li>
<li>One lot of powder was milled; other lots, moisture and storage may behave differently. A short run on a cool mill does not show what warms up or builds up within hours.</li>
<li>Laser diffraction and sieves do not give the same number for one powder; the target holds for the method it was agreed for.</li>
</ul>
<p class="danger">Dust, rotating parts and vents can kill. Screening only: test your own dust; local codes and licensed practice decide. Missing data is an unknown hazard.</p>
</section>`;
}

function aimOf({ spec, goal }: Scenario): string {
  const asked = spec.map((line) => requirementWords(line)).join('; ');
  const wish = goal ? goalWords(goal) : '';
  if (!asked && !wish) return 'The file names neither a spec nor a goal.';
  return [asked ? `Required: ${asked}.` : '', wish ? `Goal: ${wish}.` : ''].filter(Boolean).join(' ');
}

function goalWords({ sense, expression, text }: NonNullable<Scenario['goal']>): string {
  if (expression.kind !== 'quantity' || expression.argument !== undefined) return words(text, LONGEST);
  return `${sense} ${nameInWords(expression.name)}`;
}

function setUp(scenario: Scenario): [string, string][] {
  const { components, machine, air } = scenario;
  const materials = components.map(({ share, material }) => {
    const part = components.length > 1 ? `${formatNumber(100 * share, 3)} % ` : '';
    return `${part}${words(material.name, LONGEST)}, ${formatQuantity(material.density, 'kg/m^3', 4)}`;
  });
  const { geometry, motor } = machine.rotor;
  return [
    ['material', materials.join(' + ')],
    ['machine', words(machine.name ?? 'not named', LONGEST)],
    [
      'rotor',
      `${geometry.count} elements (${geometry.element}) on ${formatQuantity(geometry.diameter, 'mm', 4)}, motor ${formatQuantity(motor.power, 'kW', 3)}`,
    ],
    ['air', `${formatQuantity(air.flow, 'm^3/h', 4)} at ${formatQuantity(air.temperature, 'degC', 3)}`],
    ...wheelsOf(scenario),
    ...Object.entries(scenario.job).map(([name, value]): [string, string] => [
      words(name, 40),
      words(value, LONGEST),
    ]),
  ];
}

function wheelsOf({ machine }: Scenario): [string, string][] {
  return Object.entries(machine.wheels).map(([name, { geometry }]) => [
    `wheel ${words(name, 40)}`,
    `${formatQuantity(geometry.diameter, 'mm', 4)} × ${formatQuantity(geometry.height, 'mm', 4)}, ${geometry.vanes} vanes, lean ${formatQuantity(geometry.lean, 'deg', 3)}`,
  ]);
}
