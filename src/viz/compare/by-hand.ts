import { ladderView } from '../../answers/feed-ladder.ts';
import { pointState, pointView } from '../../answers/point-view.ts';
import { usedFromOutside } from '../../scenario/outside/laws-used.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Html, html } from '../html/template.ts';
import { controlsOf } from '../report/controls.ts';
import { modelJson } from '../report/plain.ts';
import { type Still, stillOf } from '../report/point-figures.ts';
import type { ReportData } from '../report/report-data.ts';
import { controlsHtml, notLiveHtml, pointSection } from '../report/sections/bench.ts';

/** The part of a comparison that is moved by hand: what it says, its figures, and what the page's script needs. */
interface ByHand {
  readonly html: Html;
  readonly stills: readonly Still[];
  /** Empty where the page cannot carry the model: nothing is then moved. */
  readonly data: Pick<ReportData, 'controls' | 'file' | 'live'>;
}

/** Every geometry number of wheel and rotor as a slider; grade efficiency, cut and capacity follow by the model. */
export function byHand(scenario: Scenario): ByHand {
  const view = pointView(scenario);
  const outside = notLiveHtml(usedFromOutside(scenario));
  const controls = outside ? [] : controlsOf(scenario, []);
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
    html: html`${outside}<div class="${outside ? 'alone' : 'bench'}">${outside ? undefined : controlsHtml(true, 'run')}<div class="work">${point}
<section id="ladder"><h2>Capacity by hand</h2>${ladder.html}</section></div></div>`,
    stills: [...grade, ladder],
    data: {
      controls,
      file: Object.fromEntries(controls.map(({ path, value }) => [path, value])),
      ...(outside ? {} : { live: { scenario: modelJson(scenario) } }),
    },
  };
}
