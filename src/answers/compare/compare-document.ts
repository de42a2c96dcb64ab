import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Comparison } from '../../search/compare/comparison.ts';
import { capacityInput, rotorCapacityInput } from '../capacity-curves.ts';
import type { AnswerDocument, FigureReference, Section } from '../document.ts';
import { dustWords } from '../dust-words.ts';
import { standsOn } from '../evidence-sentence.ts';
import { pointView } from '../point-view.ts';
import { continued, label } from '../text.ts';
import { openingAnywhere } from '../verdict-words.ts';
import { quantityText } from '../words.ts';
import { compareKeys } from './compare-keys.ts';
import { curvesDrawnOnce, gradesDrawnOnce } from './drawn-once.ts';
import { rotorFindings, rotorTable } from './rotor-comparison.ts';
import { heldWords, reachedWheels, targetWords } from './target-words.ts';
import {
  energyTable,
  geometryTable,
  productsTable,
  runningTable,
  wheelDots,
  worthTable,
} from './wheel-tables.ts';
import { HELD, wheelFindings } from './wheel-words.ts';

/** Wheels, and rotors where the file names others, side by side at what they are matched in. */
export function compareDocument(scenario: Scenario, comparison: Comparison): AnswerDocument {
  const all = [...comparison.wheels, ...(comparison.rotors ?? [])];
  const found = all.some(({ matched }) => matched.reached);
  const [first = '', ...more] = wheelFindings(scenario, comparison);
  return {
    command: 'compare',
    title: `${scenario.title}: wheels at ${targetWords(comparison)}`,
    job: scenario.job,
    found,
    opening: openingAnywhere(scenario),
    answer: [
      continued(first),
      standsOn(scenario, 'engineer', 'The comparison', matchedIn(comparison)),
      ...more,
    ],
    sections: [
      ...wheelSections(scenario, comparison),
      ...rotorSections(scenario, comparison),
      ...worthSection(comparison),
      ...geometrySection(comparison),
    ],
    notes: notesOf(scenario),
    cautions: [SAFETY_CAUTION, dustWords(scenario)],
    keys: compareKeys(scenario, comparison),
  };
}

/** The quantity wheels are matched in, as a column is named; none where it is an expression. */
function matchedIn({ target: { quantity, expression } }: Comparison): string | undefined {
  if (!expression) return quantity;
  return expression.kind === 'quantity' ? quantityText(expression.name, expression.argument) : undefined;
}

/** Notes on the file; that a range widens every band holds here for the wheels' own ranges alone. */
function notesOf({ warnings }: Scenario): string[] {
  const held = /^(?!machine\.wheels\.).* is taken as .*; it widens every band/;
  return warnings.map(({ message }) => message).filter((message) => !held.test(message));
}

function wheelSections(scenario: Scenario, comparison: Comparison): Section[] {
  const able = reachedWheels(comparison).length > 0;
  const dots: FigureReference = {
    id: 'needed',
    title: 'What each wheel needs',
    figure: 'dots',
    data: wheelDots(comparison),
  };
  return [
    {
      id: 'wheels',
      heading: `Side by side at ${targetWords(comparison)}`,
      sentences: [`Held for all: ${heldWords(scenario, comparison)}.`],
      figures: able ? [dots] : [],
      tables: [runningTable(comparison)],
    },
    ...(able
      ? [
          {
            id: 'products',
            heading: 'Product and energy',
            tables: [productsTable(comparison), energyTable(comparison)],
          },
        ]
      : []),
    {
      id: 'capacity',
      heading: 'Capacity against fineness',
      figures: [
        {
          id: 'capacity',
          title: 'Capacity of each wheel',
          figure: 'capacity',
          data: curvesDrawnOnce(capacityInput(scenario, comparison.target)),
        },
      ],
      onPageOnly: true,
    },
    ...gradesSection(comparison),
  ];
}

function gradesSection(comparison: Comparison): Section[] {
  const lines = reachedWheels(comparison).flatMap(({ name, matched }) => {
    const grade = pointView(matched.scenario).curves?.grade[0];
    return grade ? [{ ...grade, name: label(name) }] : [];
  });
  if (lines.length < 2) return [];
  const drawn = gradesDrawnOnce(lines);
  const once = drawn.length < lines.length ? ['Curves that lie on each other are drawn once.'] : [];
  return [
    {
      id: 'grade',
      heading: 'Grade efficiency at equal fineness',
      sentences: once,
      figures: [
        {
          id: 'grades',
          title: 'Grade efficiency of each wheel',
          figure: 'grade-efficiency',
          data: { lines: drawn },
        },
      ],
      onPageOnly: true,
    },
  ];
}

function rotorSections(scenario: Scenario, comparison: Comparison): Section[] {
  if (!comparison.rotors) return [];
  return [
    {
      id: 'rotors',
      heading: `Rotors at ${targetWords(comparison)}`,
      sentences: rotorFindings(scenario, comparison),
      figures: [
        {
          id: 'rotor-capacity',
          title: 'Capacity of each rotor against fineness',
          figure: 'capacity',
          data: rotorCapacityInput(scenario, comparison.target),
        },
      ],
      tables: [rotorTable(comparison)],
    },
  ];
}

function worthSection(comparison: Comparison): Section[] {
  const worth = worthTable(comparison);
  if (!worth) return [];
  return [
    {
      id: 'worth',
      heading: `What measuring would be worth on ${label(comparison.worth!.wheel)}`,
      sentences: [
        'Each coefficient is made better by as much as two builds of a wheel plausibly differ, one at a time; the speed is solved anew for the same fineness.',
      ],
      tables: [worth],
    },
  ];
}

function geometrySection(comparison: Comparison): Section[] {
  if (reachedWheels(comparison).length === 0) return [];
  return [
    {
      id: 'geometry',
      heading: 'What geometry does',
      sentences: [`Each wheel is held at its speed found above. ${HELD}`],
      tables: [geometryTable(comparison, 'cut'), geometryTable(comparison, 'choke')],
    },
  ];
}
