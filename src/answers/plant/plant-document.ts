import type { PlantState } from '../../plant/plant-state.ts';
import { type PresetInUse, plantFrom, presetEvidence, type StatedPlant } from '../../plant/presets.ts';
import { SAFETY_CAUTION, SAFETY_CHECKLIST } from '../../plant/safety/checklist.ts';
import { screenPlant } from '../../plant/safety/dust-screening.ts';
import type { ScreeningLine } from '../../plant/safety/plant-screening.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type AnswerDocument, columns, type Section } from '../document.ts';
import { chokedKeys, chokedText, openingOf } from '../verdict-words.ts';
import { plantKeys } from './plant-keys.ts';
import { airFigure, airTable, productTable, unitsTable } from './plant-tables.ts';
import {
  airSentence,
  balanceSentence,
  heatSentence,
  productSentence,
  screeningSentence,
  utilisationSentence,
  utilisations,
} from './plant-words.ts';

/** What stands around the mill at the operating point of a scenario: collection, fan, lines, heat, screening of the dust. */
export function plantDocument(scenario: Scenario): AnswerDocument {
  const point = solvePoint({
    ...toCase(scenario),
    plant: plantFrom((scenario.blocks.plant ?? {}) as StatedPlant),
  });
  if (point.status === 'choked') {
    return without(
      scenario,
      chokedKeys(point),
      `${chokedText({ point })}. Without a steady state nothing of the plant can be computed.`,
    );
  }
  const state = point.plant!;
  const place = beyondVacuum(state);
  if (place !== undefined) {
    const message = `at "${place}" the losses on the way exceed the pressure of the air itself: no fan can draw this air through, and nothing of the plant or its dust can be judged. Check air.flow and the gaps it passes.`;
    return without(scenario, { status: 'no air passes', place, message }, `no answer: ${message}`);
  }
  const screening = screenPlant(state);
  const presets = presetsOf(scenario);
  return {
    ...head(scenario),
    found: true,
    opening: openingOf(scenario),
    answer: [airSentence(state), utilisationSentence(utilisations(state)), productSentence(state)],
    sections: [
      ...plantSections(state),
      {
        id: 'screening',
        heading: 'Dust and rotating parts',
        sentences: [screeningSentence(screening.lines)],
      },
      ...safetySections(screening.lines).map((section) => ({ ...section, onPageOnly: true })),
    ],
    notes: [...state.warnings.map(({ message }) => message), ...presetNote(presets)],
    cautions: [SAFETY_CAUTION],
    keys: plantKeys(point, screening, presets),
  };
}

/** The screening alone, every line with its caution, and what to ask before powder runs. */
export function safetyDocument(scenario: Scenario): AnswerDocument {
  const document = plantDocument(scenario);
  if (!document.found) return document;
  const sections = document.sections.filter(({ id }) => id === 'screened' || id === 'questions');
  return {
    ...document,
    opening: 'Screening of dust and rotating parts:',
    answer: document.sections.find(({ id }) => id === 'screening')!.sentences!,
    sections: sections.map((section) => ({ ...section, onPageOnly: false })),
    notes: [],
  };
}

function head({ title, job }: Scenario) {
  return { command: 'plant', title, job };
}

function without(scenario: Scenario, keys: AnswerDocument['keys'], sentence: string): AnswerDocument {
  return {
    ...head(scenario),
    found: false,
    opening: openingOf(scenario),
    answer: [sentence],
    sections: [],
    notes: [],
    cautions: [SAFETY_CAUTION],
    keys,
  };
}

function plantSections(state: PlantState): Section[] {
  return [
    {
      id: 'air-path',
      heading: 'The air on its way',
      figures: [
        {
          id: 'air-path-figure',
          title: 'Pressure and temperature along the air path',
          figure: 'dots',
          data: airFigure(state),
        },
      ],
      tables: [airTable(state)],
    },
    {
      id: 'units',
      heading: 'Units',
      tables: [unitsTable(state)],
      sentences: [heatSentence(state), balanceSentence(state)],
    },
    { id: 'product', heading: 'Where the product goes', tables: [productTable(state)] },
  ];
}

/** Worst first. */
const RANK = { hazard: 0, 'unknown hazard': 1, 'to be judged': 2 } as const;

function safetySections(lines: readonly ScreeningLine[]): Section[] {
  const sorted = lines.toSorted((a, b) => RANK[a.standing] - RANK[b.standing]);
  return [
    {
      id: 'screened',
      heading: 'Screening',
      tables: [
        {
          columns: columns('item', 'stands as', 'finding', 'caution'),
          rows: sorted.map(({ standing, item, finding, caution }) => [
            item,
            { text: standing, fails: standing === 'hazard' },
            finding,
            caution,
          ]),
        },
      ],
    },
    {
      id: 'questions',
      heading: 'Questions to answer before powder runs',
      tables: [
        {
          columns: columns('about', 'question', 'caution'),
          rows: SAFETY_CHECKLIST.map(({ item, ask, caution }) => [item, ask, caution]),
        },
      ],
    },
  ];
}

function presetNote(presets: readonly PresetInUse[]): string[] {
  if (presets.length === 0) return [];
  const assumed = presets.filter(({ label }) => label === 'assumed').length;
  return [
    `${presets.length} values of the plant are presets, ${assumed} of them assumed; \`--json\` lists every one with its source.`,
  ];
}

/** First place whose absolute pressure would have to be zero or less. */
function beyondVacuum({ march }: PlantState): string | undefined {
  return march.stations.find(({ stream }) => !(stream.pressure > 0))?.name;
}

/** Values of the plant that nobody stated. */
function presetsOf({ blocks, provenance }: Scenario): PresetInUse[] {
  if (!blocks.plant) return presetEvidence();
  return Object.entries(provenance)
    .filter(([path, { label }]) => path.startsWith('plant.') && label !== 'given')
    .map(([name, { value, unit, label, source }]) => ({ name, value, unit, label, source }));
}
