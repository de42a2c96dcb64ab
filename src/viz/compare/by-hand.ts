import { ladderView } from '../../answers/feed-ladder.ts';
import { pointState, pointView } from '../../answers/point-view.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Html, html } from '../html/template.ts';
import { controlsOf } from '../report/controls.ts';
import { modelJson } from '../report/plain.ts';
import { type Still, stillOf } from '../report/point-figures.ts';
import type { ReportData } from '../report/report-data.ts';
import { controlsHtml, pointSection } from '../report/sections/bench.ts';

/** The part of a comparison that is moved by hand: what it says, its figures, and what the page's script needs. */
export interface ByHand {
  readonly html: Html;
  readonly stills: readonly Still[];
  readonly data: Pick<ReportData, 'controls' | 'file' | 'live'>;
}

/** Every geometry number of wheel and rotor as a slider; grade efficiency, cut and capacity follow by the model. */
export function byHand(scenario: Scenario): ByHand {
  const view = pointView(scenario);
  const controls = controlsOf(scenario, []);
  const grade = view.curves
    ? [stillOf('grade-efficiency', { lines: view.curves.grade }, { title: 'Grade efficiency by hand' })]
    : [];
  const ladder = stillOf('ladder', ladderView(scenario));
  const point = pointSection({
    title: 'Geometry by hand',
    state: pointState(scenario, view),
    figures: grade.map((still) => still.html),
    outcome: view.outcome,
    lines: [],
  });
  return {
    html: html`<div class="bench">${controlsHtml(true, 'run')}<div class="work">${point}
<section id="ladder"><h2>Capacity by hand</h2>${ladder.html}</section></div></div>`,
    stills: [...grade, ladder],
    data: {
      controls,
      file: Object.fromEntries(controls.map(({ path, value }) => [path, value])),
      live: { scenario: modelJson(scenario) },
    },
  };
}
