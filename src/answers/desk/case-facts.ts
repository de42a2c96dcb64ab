import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames } from '../../scenario/scenario-of-grade.ts';
import { formatNumber, labelOf } from '../../scenario/units/display.ts';
import { sourceWords } from '../figure-source.ts';
import { words } from '../text.ts';
import { requirementWords } from '../words.ts';
import { type WindowOffer, windowOffer } from './window-axes.ts';

/** One number in use as a form shows it. */
export interface ValueInUse {
  /** `1590 kg/m³`. */
  readonly text: string;
  /** given, recalled, assumed, fitted … */
  readonly label: string;
  readonly source: string;
}

/** What a form needs of a case that was read without a fault. */
export interface CaseFacts {
  readonly title: string;
  readonly wheels: readonly string[];
  readonly wheel: string;
  /** Grades of the case, in its order; none where it has none. */
  readonly grades: readonly string[];
  readonly values: Readonly<Record<string, ValueInUse>>;
  readonly requirements: readonly { readonly text: string; readonly words: string }[];
  /** Words for limits on a figure, by the text of the requirement. */
  readonly words: Readonly<Record<string, string>>;
  readonly goal: string;
  readonly calibrated: boolean;
  readonly notes: readonly string[];
  readonly window: WindowOffer;
  /** What a figure on its own says of where it comes from. */
  readonly source: string;
}

/** Longest title shown whole. */
const LONGEST_TITLE = 160;

/**
 * Facts of a case for its form.
 *
 * @param grades of the whole case, where the scenario is one of them
 */
export function caseFacts(scenario: Scenario, grades: readonly string[] = gradeNames(scenario)): CaseFacts {
  const { machine, provenance, spec, goal, calibration, warnings, title } = scenario;
  const values = Object.entries(provenance).map(([path, { value, unit, label: evidence, source }]) => [
    path,
    { text: `${formatNumber(value, 6)} ${labelOf(unit)}`.trim(), label: evidence, source },
  ]);
  const requirements = spec.map((each) => ({ text: each.text, words: requirementWords(each) }));
  return {
    title: words(title, LONGEST_TITLE),
    wheels: Object.keys(machine.wheels),
    wheel: scenario.settings.wheel,
    grades,
    values: Object.fromEntries(values) as CaseFacts['values'],
    requirements,
    words: Object.fromEntries(requirements.map((each) => [each.text, each.words])),
    goal: goal?.text ?? '',
    calibrated: calibration !== undefined,
    notes: warnings.map(({ message }) => message),
    window: windowOffer(scenario),
    source: sourceWords(scenario, title),
  };
}
