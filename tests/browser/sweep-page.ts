import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Audience } from '../../src/answers/evidence-sentence.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { compileStudy } from '../../src/sweep/study/compile.ts';
import { studyOf } from '../../src/sweep/study/study-of.ts';
import type { LoggedTrial } from '../../src/trials/log/logged.ts';
import type { ReportParts } from '../../src/viz/report/parts.ts';
import { sweepReport } from '../../src/viz/report/sweep-report.ts';
import { deflate } from '../../src/viz/write/deflate.ts';
import { reportText } from '../../src/viz/write/report.ts';

/** Demo case, as its file stands but for what `set` lays over it. */
export function demo(set: readonly string[] = []): Promise<Scenario> {
  const file = ['../..', '../../..']
    .map((up) => resolve(import.meta.dirname, up, 'scenarios/erythritol.yaml'))
    .find((path) => existsSync(path))!;
  return loadScenario(file, { set });
}

/** Report of a scenario's sweep, every point evaluated here. */
export function sweepPage(scenario: Scenario, audience: Audience = 'engineer'): string {
  return reportText(sweepParts(scenario, audience));
}

let whole: Promise<ReportParts> | undefined;

/** The report of the demo's own sweep before it is written: made once for all files that look at it. */
export function demoParts(): Promise<ReportParts> {
  whole ??= demo().then((scenario) => sweepParts(scenario));
  return whole;
}

/** The same before it is written. */
export function sweepParts(
  scenario: Scenario,
  audience: Audience = 'engineer',
  trials: readonly LoggedTrial[] = [],
): ReportParts {
  const study = studyOf(scenario);
  const { size, columns, evaluate } = compileStudy(study);
  const { values } = evaluate({ first: 0, count: size });
  const rows = {
    count: size,
    index: Float64Array.from({ length: size }, (_, row) => row),
    values: Object.fromEntries(columns.map(({ name }, c) => [name, values.slice(c * size, (c + 1) * size)])),
  };
  const stored = { study, columns, size, hash: 'of a test', version: 'of a test' };
  return sweepReport({ stored, rows, trials, date: '2026-01-01', audience }, deflate);
}
