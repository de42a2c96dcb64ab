import { basename } from 'node:path';
import { unconfirmedWords } from '../answers/evidence-sentence.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import { loadScenario } from '../scenario/load.ts';
import { unconfirmedCoefficients } from '../scenario/outcome/unconfirmed.ts';
import { LAW_KINDS } from '../scenario/outside/law-module.ts';
import { originWords, usedFromOutside } from '../scenario/outside/laws-used.ts';
import type { Provenance, Scenario, Speed } from '../scenario/scenario.ts';
import { placed } from '../scenario/scenario-of-grade.ts';
import { formatNumber, formatQuantity, isShownUnit, labelOf } from '../scenario/units/display.ts';
import { columnsOf } from './columns.ts';
import { type Command, EXIT } from './command.ts';
import { settable } from './set-option.ts';

/** `check FILE`: every fault at once, or the values filled in with their evidence. */
export const check: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('set', settable('change a value first, e.g. --set settings.wheelSpeed="2400 rpm" (repeatable)'))
      .option('json', { type: 'boolean', default: false, describe: 'print values and warnings as JSON' })
      .example('grindloop check my-case.yaml', 'every fault at once, or every value with its source'),
  run: async (options) => {
    const file = String(options.file);
    const scenario = await loadScenario(file, { set: options.set as string[] });
    const { provenance, uncertain, warnings, proposed } = scenario;
    const unconfirmed = unconfirmedCoefficients(scenario);
    const grades = Object.fromEntries(
      placed(scenario.grades).map(([name, { spec, goal }]) => [
        name,
        { spec: spec.map(({ text }) => text), goal: goal?.text ?? null },
      ]),
    );
    const data = {
      title: scenario.title,
      values: provenance,
      uncertain,
      proposed,
      unconfirmed,
      ...(scenario.grades ? { grades } : {}),
      ...lawsFrom(scenario),
      warnings,
    };
    process.stdout.write(
      options.json ? `${JSON.stringify(data, null, 2)}\n` : checkedText(scenario, basename(file)),
    );
    return EXIT.done;
  },
};

/** Laws, designs and quantities from modules of the user's own; nothing where all are the program's. */
function lawsFrom(scenario: Scenario) {
  const used = usedFromOutside(scenario);
  if (used.length === 0) return {};
  const laws = used.map(({ kind, name, origin: { name: module, version } }) => ({
    kind: LAW_KINDS[kind],
    name,
    from: module,
    version,
  }));
  return { laws };
}

/** The values of a scenario, one table a part, what the file leaves open last. */
function checkedText(scenario: Scenario, file: string): string {
  const entries = Object.entries(scenario.provenance);
  const parts = grouped(entries, ([path]) => partOf(path));
  const tables = [...parts].map(
    ([part, rows]) => `${part}\n${columnsOf(rows.map((row) => rowOf(row, part)))}`,
  );
  const lines = [`${file} is in order: ${scenario.title}`, '', ...tables.flatMap((table) => [table, ''])];
  const words = choicesOf(scenario);
  if (words.length > 0) lines.push('chosen', columnsOf(words), '');
  for (const { message } of scenario.warnings) lines.push(`note: ${message}`);
  lines.push(countsOf(entries.map(([, value]) => value.label)));
  lines.push(`${unconfirmedWords(scenario)}.`, SAFETY_CAUTION, '');
  return lines.join('\n');
}

function partOf(path: string): string {
  const keys = path.split('.');
  const depth = keys[0] === 'machine' ? (keys[1] === 'wheels' ? 3 : 2) : keys[0] === 'components' ? 2 : 1;
  return keys.slice(0, Math.min(depth, keys.length - 1)).join('.') || keys[0]!;
}

function rowOf([path, value]: readonly [string, Provenance], part: string): string[] {
  const unit = isShownUnit(value.unit) ? labelOf(value.unit) : value.unit;
  const name = path.slice(part.length + 1) || path;
  return [`  ${name}`, formatNumber(value.value, 6), unit, value.label, value.source];
}

/** Laws and words that stand for a choice among several. */
function choicesOf(scenario: Scenario): string[][] {
  const { components, machine, settings, air, goal, spec, grades } = scenario;
  const rows = components.flatMap(({ material, feed }) => [
    [
      `  ${material.name}`,
      `feed ${feed.law}, selection ${material.selection.law}, fragments ${material.fragments.law}`,
    ],
  ]);
  const flow = machine.stages === Number.POSITIVE_INFINITY ? ', plug flow in each pass' : '';
  for (const { kind, name, origin } of usedFromOutside(scenario))
    rows.push([`  ${LAW_KINDS[kind]} ${name}`, `from ${originWords(origin)}`]);
  rows.push(['  machine', `${machine.name}, circuit ${machine.circuit}${flow}`]);
  rows.push(['  wheel', `${settings.wheel} (${machine.wheels[settings.wheel]!.efficiency.law})`]);
  rows.push(['  air flow', `stated at the ${air.flowState} state`]);
  for (const { text } of spec) rows.push(['  spec', text]);
  if (goal) rows.push(['  goal', goal.text]);
  for (const [name, grade] of placed(grades)) {
    const own = grade.spec.slice(spec.length).map(({ text }) => text);
    const its = grade.goal && grade.goal.text !== goal?.text ? [grade.goal.text] : [];
    const { speed } = grade.wheelSpeed ?? {};
    const open = speed ? [`wheel speed ${speedText(speed)} proposed`] : [];
    rows.push([`  grade ${name}`, [...own, ...its, ...open].join('; ')]);
  }
  return rows;
}

/** A speed as it is stated: of the shaft, or of the rim. */
function speedText({ as, value }: Speed): string {
  return as === 'shaft' ? formatQuantity(value, 'rpm', 4) : `${formatQuantity(value, 'm/s', 4)} (rim)`;
}

function countsOf(labels: readonly string[]): string {
  const counts = [...grouped(labels, (label) => label)].map(([label, all]) => `${all.length} ${label}`);
  return `${labels.length} values: ${counts.join(', ')}.`;
}

function grouped<T>(all: readonly T[], keyOf: (each: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const each of all) {
    const key = keyOf(each);
    const group = groups.get(key);
    if (group) group.push(each);
    else groups.set(key, [each]);
  }
  return groups;
}
