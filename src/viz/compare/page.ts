import { capacityInput, rotorCapacityInput } from '../../answers/capacity-curves.ts';
import { standsOn } from '../../answers/evidence-sentence.ts';
import { trustWords } from '../../answers/figure-source.ts';
import type { GradeLine } from '../../answers/point-view.ts';
import { pointView } from '../../answers/point-view.ts';
import { label } from '../../answers/text.ts';
import { openingOf } from '../../answers/verdict-words.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Comparison } from '../../search/compare/comparison.ts';
import { tableHtml } from '../html/figure.ts';
import { type Html, html } from '../html/template.ts';
import type { ReportParts } from '../report/parts.ts';
import { stillOf } from '../report/point-figures.ts';
import { cautionsSection } from '../report/sections/cautions.ts';
import { headSection } from '../report/sections/head.ts';
import { madeSection } from '../report/sections/made.ts';
import { byHand } from './by-hand.ts';
import { rotorColumns, rotorFindings } from './rotor-words.ts';
import { findings, heldWords, slopesTable, targetWords, wheelColumns, worthTable } from './words.ts';

/** The page of a comparison. */
export function comparisonPage(
  scenario: Scenario,
  comparison: Comparison,
  made: { readonly version: string; readonly date: string },
): ReportParts {
  const [first, ...more] = findings(scenario, comparison);
  const worth = worthTable(comparison);
  const capacity = stillOf('capacity', capacityInput(scenario, comparison.target), { title: false });
  const rotorCapacity = comparison.rotors
    ? stillOf('capacity', rotorCapacityInput(scenario, comparison.target), {
        id: 'rotor-capacity',
        title: false,
      })
    : undefined;
  const lines = gradeLines(comparison);
  const grades =
    lines.length > 1 ? stillOf('grade-efficiency', { lines }, { id: 'grades', title: false }) : undefined;
  const links: [string, string][] = [
    ['finding', 'Finding'],
    ['wheels', 'Side by side'],
    ['capacity', 'Capacity'],
    ...(grades ? [['grade', 'Grade efficiency'] as [string, string]] : []),
    ...(rotorCapacity ? [['rotors', 'Rotors'] as [string, string]] : []),
    ...(worth ? [['worth', 'What measuring is worth'] as [string, string]] : []),
    ['geometry', 'Geometry'],
    ['point', 'By hand'],
    ['cautions', 'Cautions'],
    ['made', 'How it was made'],
  ];
  const hand = byHand(scenario);
  const drawn = [capacity, grades, rotorCapacity, ...hand.stills].filter((each) => each !== undefined);
  const slopes = slopesTable(comparison);
  const body = html`<a class="skip" href="#finding">To the finding</a>${headSection(`${scenario.title}: wheels at equal fineness`, scenario.job, links)}
<main><section id="finding" class="answer"><h2>The finding</h2>
<p class="sentence"><span class="opening">${openingOf(scenario)}</span> ${first}</p>
<p class="stands">${standsOn(scenario, 'engineer')}</p>
<ul class="second">${more.map((line) => html`<li>${line}</li>`)}</ul></section>
<section id="wheels"><h2>Side by side at ${targetWords(comparison)}</h2>
<p>Held for all: ${heldWords(scenario, comparison)}. Each wheel turns at the lowest speed that gives the fineness.</p>
${tableHtml(wheelColumns(comparison), 'Wheels side by side')}</section>
<section id="capacity"><h2>Capacity against fineness</h2>${capacity.html}</section>
${grades ? html`<section id="grade"><h2>Grade efficiency at equal fineness</h2>${grades.html}</section>` : undefined}
${rotorCapacity ? rotorSection(scenario, comparison, rotorCapacity.html) : undefined}
${
  worth
    ? html`<section id="worth"><h2>What measuring is worth</h2>
<p>Sharpness, bypass and leakage of the ${label(comparison.worth!.wheel)} wheel made better one at a time, its speed solved anew for the same fineness.</p>${tableHtml(worth, 'What better coefficients would be worth')}</section>`
    : undefined
}
<section id="geometry"><h2>What geometry does</h2>
<p>At the speed found above, held: how cut size and the feed at choke follow each number of the wheel.</p>
${tableHtml(slopes, 'Cut and capacity against geometry')}</section>
${hand.html}
${cautionsSection([], scenario)}
${madeSection({ program: `grindloop ${made.version}`, date: made.date, design: `every wheel of the file at ${targetWords(comparison)}`, scenarioText: scenario.text })}</main>`;
  return {
    title: `${scenario.title}: wheels at equal fineness`,
    body,
    data: {
      ...hand.data,
      position: {},
      marks: [],
      words: {},
      chokedBecause: '',
      stills: drawn.map(({ still }) => still),
    },
    offer: {
      figures: drawn.map(({ offered }) => offered),
      source: `${label(scenario.title, 80)}: wheels at ${targetWords(comparison)}, ${heldWords(scenario, comparison)}. ${trustWords(scenario)}`,
    },
  };
}

function rotorSection(scenario: Scenario, comparison: Comparison, capacity: Html): Html {
  return html`<section id="rotors"><h2>Rotors at ${targetWords(comparison)}</h2>
${rotorFindings(scenario, comparison).map((line) => html`<p>${line}</p>`)}
${tableHtml(rotorColumns(comparison), 'Rotors side by side')}
<h3>Capacity of each rotor against fineness</h3>${capacity}</section>`;
}

function gradeLines({ wheels }: Comparison): GradeLine[] {
  return wheels.flatMap(({ name, matched }) => {
    if (!matched.reached) return [];
    const grade = pointView(matched.scenario).curves?.grade[0];
    return grade ? [{ ...grade, name: label(name) }] : [];
  });
}
