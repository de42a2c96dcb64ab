import { toShown } from '../../scenario/units/display.ts';
import type { FoundPoint, FoundSetting } from '../../search/find/find.ts';
import { withSpread } from '../../trials/spread.ts';
import type { FindAnswer } from './find-answer.ts';
import { typedSetting } from './find-words.ts';

/** Keys of `find --json`: `verdict` and `settings` are of the point named first; `best` is that of the model as it stands, or at the confidence required. */
export function findKeys(answer: FindAnswer) {
  const { nominal, robust, likeliest, capacity, relaxed, named, verdict } = answer;
  const best = (robust ?? nominal).best;
  const whole = (one: FoundPoint) => ({ ...pointJson(one), outcome: withSpread(one.scenario, one.outcome) });
  return {
    meets: nominal.meets,
    verdict,
    settings: named.outcome.settings,
    meeting: null,
    first: likeliest
      ? {
          ...pointJson(likeliest.point),
          probability: likeliest.chances.whole,
          chokes: likeliest.chances.chokes,
          standardError: likeliest.chances.error,
          lines: likeliest.chances.lines,
          tie: likeliest.tie ?? [],
        }
      : null,
    best: whole(best),
    nominal: pointJson(nominal.best),
    robust: robust ? pointJson(robust.best) : null,
    support: robust
      ? {
          supported: robust.supported,
          confidence: robust.confidence,
          probability: robust.probability,
          standardError: robust.error,
          lines: robust.lines,
          calibrated: robust.calibrated,
          meaning: 'including the uncertainty of model, feed lot and analyser; not a guarantee',
        }
      : null,
    capacityAtSpec: capacity
      ? { feedRate_kg_per_h: toShown(capacity.scenario.settings.feedRate, 'kg/h'), ...pointJson(capacity) }
      : null,
    byChoice: nominal.byChoice.map(pointJson),
    robustByChoice:
      robust?.byChoice.map(({ point, chance, error, samples }) => ({
        ...pointJson(point),
        probability: chance,
        standardError: error,
        samples,
      })) ?? null,
    relaxed: relaxed.map(({ line, point }) => ({ ...line, at: pointJson(point).set })),
    evaluations: nominal.evaluations,
  };
}

function pointJson(one: FoundPoint) {
  return {
    settings: Object.fromEntries(one.settings.map((setting) => [setting.path, settingJson(setting)])),
    set: one.settings.map(typedSetting),
    goal: one.goal,
    meets: one.merit.violation === 0,
    limits: one.limits,
    spec: one.outcome.spec,
  };
}

function settingJson({ value, shownIn }: FoundSetting): unknown {
  return typeof value === 'string' ? value : { value: toShown(value, shownIn), unit: shownIn };
}
