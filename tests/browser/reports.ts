import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadScenario } from '../../src/scenario/load.ts';
import type { Scenario, SweepPlan } from '../../src/scenario/scenario.ts';
import { compileStudy } from '../../src/sweep/study/compile.ts';
import { studyOf } from '../../src/sweep/study/study-of.ts';
import type { SweepSource } from '../../src/viz/report/context.ts';
import { sweepReport } from '../../src/viz/report/sweep-report.ts';
import { deflate, reportText } from '../../src/viz/write/report.ts';

/** Stands two folders up from the sources, three from what is built of them. */
export const ERYTHRITOL = ['../../', '../../../']
  .map((up) => fileURLToPath(new URL(`${up}scenarios/erythritol.yaml`, import.meta.url)))
  .find((file) => existsSync(file))!;

/** The demo scenario with fewer steps, so that a test has its sweep at once. */
export async function smallScenario(): Promise<Scenario & { sweep: SweepPlan }> {
  const scenario = await loadScenario(ERYTHRITOL);
  const steps: Readonly<Record<string, number>> = { rotorSpeed: 7, wheelSpeed: 9, feedRate: 3 };
  const { factors, ...plan } = scenario.sweep!;
  const fewer = factors.map((factor) =>
    factor.kind === 'number' ? { ...factor, steps: steps[factor.path] ?? 3 } : factor,
  );
  return { ...scenario, sweep: { ...plan, factors: fewer } };
}

/** A scenario's sweep run here, in the form a report takes. */
export function sweptHere(scenario: Scenario, audience: SweepSource['audience'] = 'engineer'): SweepSource {
  const study = studyOf(scenario);
  const { size, columns, evaluate } = compileStudy(study);
  const { count, values } = evaluate({ first: 0, count: size });
  const byHead = columns.map(({ name }, c) => [name, values.slice(c * count, (c + 1) * count)] as const);
  return {
    stored: { study, columns, size, hash: 'none', version: '0.0.0' },
    rows: {
      count,
      index: Float64Array.from({ length: count }, (_, i) => i),
      values: Object.fromEntries(byHead),
    },
    trials: [],
    date: '2000-01-01',
    audience,
  };
}

/** Writes a sweep's report into a folder of its own and returns its path. */
export function writtenReport(source: SweepSource): string {
  return writtenPage(reportText(sweepReport(source, deflate)));
}

export function writtenPage(text: string): string {
  const file = join(mkdtempSync(join(tmpdir(), 'page-')), 'page.html');
  writeFileSync(file, text);
  return file;
}
