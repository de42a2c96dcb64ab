import { outcomeOf } from '../scenario/outcome/outcome.ts';
import { toShown } from '../scenario/units/display.ts';
import type { Recommendation } from './recommend.ts';
import type { Answer } from './report-answer.ts';
import { standingOf } from './standing.ts';

/** `report --json`: what the first section of the report says, of the point it names. */
export function reportJson(best: Recommendation, answer: Answer): Readonly<Record<string, unknown>> {
  const { scenario, standing, kind, meeting, points, tie, kept, nominal } = best;
  const outcome = outcomeOf(scenario, standing.point);
  return {
    title: scenario.title,
    status: outcome.status,
    /** `first`: to be run first; `nearest`: the nearest miss; `file`: the settings of the file. */
    point: kind,
    verdict: answer.verdict,
    settings: outcome.settings,
    meeting: meeting ?? null,
    points: points ?? null,
    answer: [`${answer.opening} ${answer.sentence}`, ...answer.second],
    spec: outcome.spec.map((line, k) => ({
      ...line,
      probability: Number(answer.spec[k]!.probability) / 100,
    })),
    changes: best.changes.map(({ path, value }) => ({ path, value })),
    feedLimit_kg_per_h: kept ? toShown(kept.limit.value, 'kg/h') : null,
    tie: tie?.wheels ?? [],
    nominal: nominal ? outcomeOf(nominal.scenario, standingOf(nominal.scenario).point).settings : null,
  };
}
