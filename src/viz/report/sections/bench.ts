import { SETTINGS_SHOWN, type TurnsView } from '../../../answers/setting-corrections.ts';
import { together } from '../../../answers/text.ts';
import { quantitiesInGroup } from '../../../answers/words.ts';
import type { Outcome } from '../../../scenario/outcome/outcome.ts';
import { originWords, type UsedFromOutside } from '../../../scenario/outside/laws-used.ts';
import { tableHtml } from '../../html/figure.ts';
import { type Html, html } from '../../html/template.ts';

/** The window beside its controls, with the reading under it. */
export function windowSection(figure: Html, missing: Html | undefined): Html {
  return html`<section id="window">
<h2>Operating window</h2>
${missing}
<div class="choices" id="window-choices"></div>
${figure}
<p class="source" id="source"></p>
<div class="reading" id="reading"></div>
</section>`;
}

/** Figures and numbers of the pinned point. */
export function pointSection(parts: {
  readonly title: string;
  readonly state: string;
  readonly figures: readonly Html[];
  readonly outcome: Outcome;
  readonly lines: readonly { readonly required: string }[];
}): Html {
  return html`<section id="point">
<h2>${parts.title}</h2>
<p class="state" id="pinned-state" role="status">${together(parts.state)}</p>
<div class="pair">${parts.figures}${parts.lines.length > 0 ? specHtml(parts.outcome, parts.lines) : undefined}</div>
${numbersHtml(parts.outcome)}
</section>`;
}

const GROUPS = ['product', 'loop', 'rotor', 'wheel', 'air', 'energy'] as const;

const short = (value: number) => (Number.isFinite(value) ? Number(value.toPrecision(4)) : '–');

/** The spec at the pinned point; the page's script keeps it current. */
function specHtml(outcome: Outcome, lines: readonly { readonly required: string }[]): Html {
  const rows = lines.map(({ required }, k) => {
    const { met, value, margin } = outcome.spec[k]!;
    return html`<tr data-line="${k}"${met ? undefined : html` class="missed"`}><th scope="row">${required}</th><td class="number">${short(value)}</td><td class="number">${short(margin)}</td><td>${met ? 'yes' : 'no'}</td></tr>`;
  });
  return html`<div class="at-point"><h3>The spec at this point</h3>
<table><thead><tr><th scope="col">required</th><th scope="col" class="number">value</th><th scope="col" class="number">margin</th><th scope="col">met</th></tr></thead><tbody>${rows}</tbody></table></div>`;
}

function unitHtml(unit: string): Html | undefined {
  return unit ? html` <span class="unit">${unit}</span>` : undefined;
}

/** Every number of an operating point, in columns by group; the page's script keeps them current. */
export function numbersHtml(outcome: Outcome): Html {
  const groups = GROUPS.map((group) => {
    const values = outcome.status === 'steady' ? outcome[group] : {};
    const known = quantitiesInGroup(group).filter(({ key }) => outcome.status === 'choked' || key in values);
    const rows = known.map(({ key, name, unit, factor }) => {
      const value = (values as Readonly<Record<string, unknown>>)[key];
      const scaled = factor === 1 ? undefined : html` data-factor="${factor}"`;
      const text = typeof value === 'number' ? short(value * factor) : '–';
      return html`<tr><th scope="row">${name}${unitHtml(unit)}</th><td class="number" data-value="${group}.${key}"${scaled}>${text}</td></tr>`;
    });
    return html`<table class="group"><caption>${group}</caption><tbody>${rows}</tbody></table>`;
  });
  return html`<div class="groups">${groups}</div>`;
}

/** Which setting: for each wish, how far to turn each setting and what it costs. */
export function turnsHtml({ heads, wishes }: TurnsView): Html {
  const first = wishes.findIndex(({ missed }) => missed !== false);
  const one = wishes.map(
    (
      { key, words, turns, missed },
      i,
    ) => html`<details class="wish" data-wish="${key}"${i === first ? html` open` : undefined}${missed === false ? html` hidden` : undefined}>
<summary>${words}</summary>
${tableHtml({ heads, rows: rowsOf(turns, heads.length) }, words)}
</details>`,
  );
  return html`<section id="knobs"><h2>Which setting</h2>
<p>Which setting to change, one at a time from the point above, where a requirement is missed or a trial comes out a little off, and what that costs: the numbers say by how much each result changes.</p>
${one}</section>`;
}

/** A row a setting; empty rows for the page's script where nothing is to be turned now. */
function rowsOf(turns: TurnsView['wishes'][number]['turns'], width: number): string[][] {
  const shown =
    turns.length > 0 ? turns : SETTINGS_SHOWN.map((setting) => ({ setting, turn: '', costs: [] }));
  return shown.map(({ setting, turn, costs }) => [setting, turn, ...pad(costs, width - 2)]);
}

function pad(texts: readonly string[], length: number): string[] {
  return Array.from({ length }, (_, i) => texts[i] ?? '');
}

const TO_FILE = html`<button type="button" id="to-file">As in the file</button>`;

/** Why a page whose scenario uses laws of the user's own recomputes nothing; nothing where it uses none. */
export function notLiveHtml(used: readonly UsedFromOutside[]): Html | undefined {
  const modules = [...new Map(used.map(({ origin }) => [origin.name, origin])).values()];
  if (modules.length === 0) return undefined;
  const from = modules.map(originWords).join(' and ');
  const remedy = modules.map(({ name }) => `--with ${name}`).join(' ');
  return html`<p class="note" id="not-live">This page computes nothing new, because it cannot carry the laws from ${from}: it shows the results as they were computed. For other settings use grindloop run FILE ${remedy}.</p>`;
}

/** Everything one can turn, and what to do with it. */
export function controlsHtml(live: boolean, what: 'sweep' | 'run' = 'sweep'): Html {
  const copies = live
    ? html`<button type="button" id="copy-yaml">Copy as YAML</button><button type="button" id="copy-options">Copy as --set</button>`
    : undefined;
  return html`<aside class="panel" aria-label="Settings"><details open>
<summary>Settings<span class="brief" id="brief"></span></summary>
<div id="controls"></div>
<div class="buttons"><button type="button" id="undo" disabled>Undo</button><button type="button" id="redo" disabled>Redo</button><button type="button" id="reset">${what === 'sweep' ? 'Recommended' : 'As in the file'}</button>${what === 'sweep' ? TO_FILE : undefined}${copies}</div>
<textarea id="copy-text" hidden readonly rows="4" aria-label="Settings as text"></textarea>
<p id="copied" role="status"></p>
</details></aside>`;
}
