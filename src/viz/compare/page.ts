import { compareDocument } from '../../answers/compare/compare-document.ts';
import { heldWords, targetWords } from '../../answers/compare/target-words.ts';
import type { AnswerDocument, FigureReference } from '../../answers/document.ts';
import { trustWords } from '../../answers/figure-source.ts';
import { label } from '../../answers/text.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Comparison } from '../../search/compare/comparison.ts';
import type { FigureName } from '../figures/index.ts';
import { answerBody } from '../html/answer-body.ts';
import type { ReportParts } from '../report/parts.ts';
import { madeSection } from '../report/sections/made.ts';
import { byHand } from './by-hand.ts';

/** The page of a comparison: its answer, and geometry to be moved by hand. */
export function comparisonPage(
  scenario: Scenario,
  comparison: Comparison,
  made: { readonly version: string; readonly date: string },
  document: AnswerDocument = compareDocument(scenario, comparison),
): ReportParts {
  const figures = document.sections.flatMap((section) => section.figures ?? []);
  const hand = byHand(scenario);
  const how = madeSection({
    program: `grindloop ${made.version}`,
    date: made.date,
    design: `every wheel of the file at ${targetWords(comparison)}`,
    scenarioText: scenario.text,
  });
  return {
    title: document.title,
    body: answerBody(document, how, {
      html: hand.html,
      links: [['point', 'By hand']],
    }),
    data: {
      ...hand.data,
      position: {},
      marks: [],
      words: {},
      chokedBecause: '',
      stills: [...figures.filter(takenOver).map(stillFrom), ...hand.stills.map(({ still }) => still)],
    },
    offer: {
      figures: [
        ...figures.map(({ id, title, figure, data }) => ({
          id,
          title,
          figure: figure as FigureName,
          input: data,
        })),
        ...hand.stills.map(({ offered }) => offered),
      ],
      source: `${label(scenario.title, 80)}: wheels at ${targetWords(comparison)}, ${heldWords(scenario, comparison)}. ${trustWords(scenario)}`,
    },
  };
}

/** Figures in which a pointer reads more than the picture says. */
function takenOver({ figure }: FigureReference): boolean {
  return figure !== 'dots';
}

function stillFrom({ id, figure, data }: FigureReference) {
  return { id, figure: figure as FigureName, input: data };
}
