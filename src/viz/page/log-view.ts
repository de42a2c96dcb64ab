import { readLogHeading } from '../../trials/log/columns.ts';
import { byId, element, whenQuiet } from './dom.ts';
import type { LogSheet } from './log-sheet.ts';

/** Rest after typing before the log is read anew [ms]. */
const REST = 300;

/** The log as a table to type in; readings predicted before the runs are shown, not typed. */
export class LogView {
  private readonly root = byId('log-table')!;
  private readonly changed: () => void;
  private sheet: LogSheet | undefined;
  private shape = '';
  private readonly soon = whenQuiet(REST, () => this.changed());

  /** @param changed called when the cells have changed and typing rests */
  constructor(changed: () => void) {
    this.changed = changed;
    byId('log-add')!.addEventListener('click', () => {
      this.sheet?.add();
      this.draw();
      this.changed();
      this.root.querySelector<HTMLInputElement>('tbody tr:last-child input')?.focus();
    });
  }

  take(sheet: LogSheet | undefined): void {
    this.sheet = sheet;
    byId('log-add')!.hidden = sheet === undefined;
    byId('log-note')!.textContent = sheet
      ? ''
      : 'This log is written in YAML: change it as a file and open it again.';
    if (sheet) this.draw();
    else this.root.replaceChildren();
  }

  private draw(): void {
    const sheet = this.sheet!;
    const shape = JSON.stringify([sheet.heads, sheet.units, sheet.rows.length]);
    if (shape === this.shape && this.root.childElementCount > 0) {
      this.fill(sheet);
      return;
    }
    this.shape = shape;
    const headings = sheet.heads.map(readLogHeading);
    const unit = (c: number) => headings[c]!.unit || sheet.units?.[c] || '';
    const title = (c: number) => headings[c]!.column?.meaning ?? sheet.heads[c]!;
    const head = element(
      'tr',
      {},
      ...sheet.heads.map((name, c) =>
        element('th', { scope: 'col', title: title(c) }, spoken(name), unitLine(name, unit(c))),
      ),
      element('td', { class: 'corner' }),
    );
    const rows = sheet.rows.map((cells, row) =>
      element(
        'tr',
        {},
        ...cells.map((_, c) => this.cell(sheet, row, c)),
        element('td', {}, this.removal(sheet, row)),
      ),
    );
    this.root.replaceChildren(
      element('table', { class: 'log' }, element('thead', {}, head), element('tbody', {}, ...rows)),
    );
  }

  /** Cells with what the sheet holds, but the one typed in. */
  private fill(sheet: LogSheet): void {
    for (const input of this.root.querySelectorAll<HTMLInputElement>('input')) {
      const [row, c] = input.dataset.at!.split(' ').map(Number) as [number, number];
      if (document.activeElement !== input) input.value = sheet.rows[row]![c]!;
    }
  }

  private cell(sheet: LogSheet, row: number, c: number): HTMLElement {
    const name = sheet.heads[c]!;
    const value = sheet.rows[row]![c]!;
    if (/^foretold/i.test(name)) return element('td', { class: 'foretold' }, value || '–');
    const column = readLogHeading(name).column?.name;
    const list = column === 'wheel' ? 'log-wheels' : column === 'sizes' ? 'log-files' : undefined;
    const input = element('input', {
      type: 'text',
      spellcheck: 'false',
      autocomplete: 'off',
      list,
      class: column === 'remarks' || column === 'sizes' || column === 'wheel' ? 'wide' : undefined,
      'data-at': `${row} ${c}`,
      'aria-label': `${spoken(name)}, row ${row + 1}`,
    });
    input.value = value;
    input.addEventListener('input', () => {
      sheet.rows[row]![c] = input.value;
      this.soon();
    });
    return element('td', {}, input);
  }

  private removal(sheet: LogSheet, row: number): HTMLElement {
    return element(
      'button',
      {
        type: 'button',
        'aria-label': `Remove row ${row + 1} of the log`,
        click: () => {
          sheet.remove(row);
          this.draw();
          this.changed();
        },
      },
      'Remove',
    );
  }
}

/** `rotorSpeed` → `rotor speed`; a unit in the heading stands in a line of its own. */
function spoken(heading: string): string {
  return heading
    .replace(/\s*(?:\[.*\]|\(.*\))\s*$/, '')
    .replace(/([a-z])([A-Z])/g, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`)
    .replace(/^foretold/, 'predicted');
}

function unitLine(_heading: string, unit: string): HTMLElement {
  return element('span', { class: 'unit' }, unit);
}
