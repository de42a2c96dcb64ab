import type { FileFacts, FileQuestion } from '../../answers/desk/file-facts.ts';
import { byId, element } from './dom.ts';
import type { SheetRun } from './log-sheet.ts';

/** What can be done with a file of the campaign. */
export interface FileActions {
  readonly remove: (name: string) => void;
  /** `feed`, a row of the log, `new` for a run of its own, or nothing. */
  readonly use: (name: string, as: string) => void;
  readonly answer: (file: FileFacts, option: string, value: string) => void;
}

/** The campaign's files: what was understood of each, what it is used for, and what it leaves open, as choices. */
export class FileList {
  private readonly root = byId('files')!;
  private readonly actions: FileActions;
  private shown = '';

  constructor(actions: FileActions) {
    this.actions = actions;
  }

  show(
    files: readonly FileFacts[],
    runs: readonly SheetRun[],
    rowsOf: (name: string) => readonly number[],
  ): void {
    const key = JSON.stringify([files, runs]);
    if (key === this.shown) return;
    this.shown = key;
    const active = document.activeElement?.id;
    const none =
      'None. Open or drop analyser and sieve files, a trial log, a calibration or a library file here.';
    this.root.replaceChildren(
      ...(files.length > 0
        ? files.map((file) => this.line(file, runs, rowsOf(file.name)))
        : [element('li', { class: 'from' }, none)]),
    );
    if (active) byId(active)?.focus();
  }

  private line(file: FileFacts, runs: readonly SheetRun[], rows: readonly number[]): HTMLElement {
    const remove = element(
      'button',
      {
        type: 'button',
        'aria-label': `Remove file ${file.name}`,
        click: () => this.actions.remove(file.name),
      },
      'Remove',
    );
    const words = [...file.understood, ...file.remarks, ...file.faults];
    const used = file.feed || file.runs.length > 0;
    return element(
      'li',
      { class: 'file' },
      element('div', { class: 'head' }, element('b', {}, file.name), remove),
      file.kind === 'sizes' ? this.use(file, runs, rows) : element('p', { class: 'from' }, KINDS[file.kind]),
      ...words.map((each) => element('p', { class: 'from' }, each)),
      ...file.questions.map((each) => this.question(file, each, used)),
    );
  }

  private use(file: FileFacts, runs: readonly SheetRun[], rows: readonly number[]): HTMLElement {
    const id = `use-${idFrom(file.name)}`;
    const options = [
      ['', 'not used yet'],
      ['feed', 'the feed'],
      ...runs.map(({ row, name }) => [String(row), `run ${name}`]),
      ['new', 'a new run'],
    ] as const;
    const select = element(
      'select',
      { id, change: () => this.actions.use(file.name, select.value) },
      ...options.map(([value, text]) => element('option', { value }, text)),
    );
    select.value = file.feed ? 'feed' : rows.length > 0 ? String(rows[0]) : '';
    return element('div', { class: 'line' }, element('label', { for: id }, 'is of'), select);
  }

  private question(file: FileFacts, { option, words, choices }: FileQuestion, used: boolean): HTMLElement {
    const id = `ask-${option}-${idFrom(file.name)}`;
    const select = element(
      'select',
      { id, disabled: !used, change: () => this.actions.answer(file, option, select.value) },
      element('option', { value: '' }, used ? 'choose' : 'first choose what it is of'),
      ...choices.map((each) => element('option', { value: each }, each.split('-').join(' '))),
    );
    const label = element('label', { for: id }, `${words}:`);
    return element('div', { class: 'question' }, label, choices.length > 0 && select);
  }
}

const KINDS = {
  log: 'the trial log',
  calibration: 'a calibration, written by a fit',
  entry: 'a library file: choose it in the form where it says from the catalogue',
} as const;

function idFrom(name: string): string {
  return name.replace(/[^\w-]+/g, '-');
}
