import { FIGURES, type FigureName } from '../figures/index.ts';
import { type Html, html } from '../html/template.ts';

/** The desk before its script fills it: the case, its answer, and what can be taken away. */
export function deskBody(): Html {
  return html`<a class="skip" href="#case">To the case</a>
<header class="bar">
<h1><span id="desk-title">grindloop desk</span></h1>
<div class="buttons" role="group" aria-label="The whole desk">
<button type="button" id="undo" disabled>Undo</button><button type="button" id="redo" disabled>Redo</button>
<button type="button" id="open-campaign">Open a file…</button><button type="button" id="save-campaign">Save campaign</button><button type="button" id="save-folder">Save as folder (.zip)</button><button type="button" id="save-text">Save case as YAML</button><button type="button" id="save-report">Write the report</button><button type="button" id="save-customer">Write it for a customer</button><button type="button" id="print-sheet">Print one sheet</button>
</div>
<p id="kept" class="state" role="status"></p>
<input type="file" id="file-open" multiple hidden aria-label="Campaign, folder, scenario or measured file to open">
</header>
<main class="desk">
<details id="log"><summary>Trial log: <span id="log-count">empty</span></summary>
<p class="state">One row for each run; hold the pointer on a heading for its meaning. Write a unit into a cell where it is not the column's.</p>
<p id="log-note" class="state"></p>
<datalist id="log-wheels"></datalist><datalist id="log-files"></datalist>
<div id="log-table" class="scroll" tabindex="0" role="group" aria-label="Trial log, a row for each run"></div>
<div class="buttons"><button type="button" id="log-add">Add a run</button></div></details>
<section id="case" class="column" aria-labelledby="case-heading">
<h2 id="case-heading">The case</h2>
<div id="faults" class="faults" role="alert"></div>
<form id="form" autocomplete="off"></form>
<details id="text-view"><summary>The same case as text (YAML)</summary>
<textarea id="text" rows="24" spellcheck="false" aria-label="The case as YAML text" aria-describedby="text-line"></textarea>
<p id="text-line" class="state"></p></details>
</section>
<section id="result" class="column" aria-labelledby="result-heading">
<h2 id="result-heading" class="skip">The answer to the case</h2>
<p id="pending" class="notice" hidden></p>
<div id="results">
<div class="choices" id="grade-choice" hidden><label for="grade">Grade</label><select id="grade"></select></div>
<div id="part-answer"></div>
<section id="window"><h2>Operating window</h2>
<div class="choices" id="window-choices"></div>
<label class="choice"><input type="checkbox" id="window-bands"> Show where each limit may lie <span id="window-bands-state" class="state"></span></label>
<div class="working" id="window-work"><progress id="window-progress" max="1" value="0" aria-label="Operating window computed"></progress> <span id="window-state" role="status"></span> <button type="button" id="window-stop" hidden>Stop the window</button></div>
${emptyFigure('window')}
<div class="reading" id="reading"></div></section>
<section id="point"><h2>The operating point</h2>
<p class="state" id="pinned-state" role="status"></p>
<div class="pair">${(['size-curve', 'grade-efficiency', 'balance', 'choke'] as const).map(emptyFigure)}</div></section>
<section id="ladder"><h2>How much can it do?</h2>${emptyFigure('ladder')}</section>
<div id="part-changes"></div>
<section id="fit-whole" hidden><h2>What the trials say</h2>
<div class="buttons"><button type="button" id="fit-save">Save the fit as a page</button></div>
<div id="fit-document"></div></section>
<section id="sheet-whole" hidden><h2>What to run next</h2>
<div class="buttons"><button type="button" id="sheet-print">Print the run sheet</button><button type="button" id="sheet-save">Save the run sheet as a page</button><button type="button" id="sheet-log">Write these runs into the log</button></div>
<div id="sheet-document"></div></section>
<section id="more"><h2>More answers for this case</h2>
<div class="choices"><label for="document-name">Compute</label><select id="document-name"></select><span id="document-to"><label for="document-machine">to</label> <select id="document-machine"></select></span>
<button type="button" id="document-compute">Compute this answer</button> <button type="button" id="document-stop" hidden>Stop this answer</button> <button type="button" id="document-save" hidden>Save this answer as a page</button></div>
<p id="document-state" class="state" role="status"></p>
<div id="document"></div></section>
<section id="figures-numbers"><h2>All numbers of this point</h2><div id="part-numbers"></div></section>
</div>
</section>
<section id="aside" class="column" aria-labelledby="aside-heading">
<h2 id="aside-heading">The trials</h2>
${trialsHtml()}
<h2>Cautions</h2>
<div id="part-cautions"></div>
<details id="sources"><summary>Where each value comes from</summary><div id="part-sources"></div></details>
</section>
</main>`;
}

/** Measured files, the fit and what to run next; the log itself stands across the page. */
function trialsHtml(): Html {
  return html`<section class="trial-part"><h3>Files of this campaign</h3>
<ul id="files" class="files"></ul>
<div class="buttons"><button type="button" id="add-files">Add files…</button></div></section>
<section class="trial-part"><h3>Fit the model to the log</h3>
<ul id="log-words" class="words"></ul>
<div class="buttons"><button type="button" id="fit-start" disabled>Fit</button><button type="button" id="fit-stop" hidden>Stop the fit</button></div>
<progress id="fit-progress" max="1" value="0" hidden aria-label="Fit done"></progress>
<p id="fit-state" class="state" role="status"></p>
<label class="choice"><input type="checkbox" id="calibration-on" disabled> Use the calibration in the case</label>
<div id="fit-answer"></div><div id="shift"></div><div id="foretold"></div></section>
<section class="trial-part"><h3>What to run next</h3>
<div class="line"><label for="next-trials">runs wanted</label><select id="next-trials">${[1, 2, 3, 4, 5].map((count) => html`<option${count === 3 && html` selected`}>${count}</option>`)}</select></div>
<div class="line"><label for="next-hours">hours available</label><input type="text" id="next-hours" inputmode="decimal" value="6"></div>
<div class="line"><label for="next-method">sizes measured by</label><select id="next-method"><option value="laser">laser</option><option value="sieve">sieve</option></select></div>
<div class="buttons"><button type="button" id="next-start">Plan the next runs</button><button type="button" id="next-stop" hidden>Stop the planning</button></div>
<p id="next-state" class="state" role="status"></p>
<div id="next-answer"></div></section>`;
}

/** A figure's place, filled by the page's script. */
function emptyFigure(figure: FigureName): Html {
  return html`<figure class="figure" id="figure-${figure}" data-figure="${figure}">
${figure === 'window' ? undefined : html`<h3>${FIGURES[figure].title}</h3>`}
<div class="canvas"><div class="plot" role="img" aria-label="${FIGURES[figure].title}, not drawn yet"></div></div>
<figcaption></figcaption>
<details class="numbers"><summary>Numbers: ${FIGURES[figure].title.toLowerCase()}</summary><div class="scroll" tabindex="0" role="group" aria-label="Numbers: ${FIGURES[figure].title.toLowerCase()}"><table><thead><tr></tr></thead><tbody></tbody></table></div></details>
<div class="buttons take"></div>
</figure>`;
}
