import { CALIBRATION_FILE } from '../../answers/desk/campaign-log.ts';
import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import type { FileFacts } from '../../answers/desk/file-facts.ts';
import type { MeasuredTrial } from '../../answers/measured-trials.ts';
import { together } from '../../answers/text.ts';
import { describeFault } from '../../scenario/errors.ts';
import { columnStating } from '../../trials/log/columns.ts';
import type { CaseText } from './case-text.ts';
import type { Crew } from './crew.ts';
import { DocumentView } from './document-view.ts';
import { byId, element, whenQuiet } from './dom.ts';
import { FileList } from './file-list.ts';
import { LogSheet } from './log-sheet.ts';
import { LogView } from './log-view.ts';
import { seconds } from './more-answers.ts';

interface TrialsActions {
  readonly crew: Crew;
  readonly text: CaseText;
  readonly about: () => CaseFiles;
  readonly setFiles: (files: CaseFiles['files']) => void;
  /** Measured runs, for the window and the size curve. */
  readonly measured: (trials: readonly MeasuredTrial[]) => void;
}

/** The third column: measured files, the trial log, the fit, and what to run next. */
export class TrialsPanel {
  private readonly actions: TrialsActions;
  private readonly fileList: FileList;
  private readonly logView = new LogView(() => this.writeLog());
  private readonly fitView = new DocumentView(byId('fit-document')!);
  private readonly sheetView = new DocumentView(byId('sheet-document')!, sheetStyle());
  private sheet: LogSheet | undefined;
  private planned: readonly Readonly<Record<string, string>>[] = [];
  /** The log as the last fit saw it. */
  private fitted: string | undefined;
  private readonly soon = whenQuiet(120, () => void this.read());

  constructor(actions: TrialsActions) {
    this.actions = actions;
    this.fileList = new FileList({
      remove: (name) => this.remove(name),
      use: (name, as) => this.use(name, as),
      answer: (file, option, value) => this.answer(file, option, value),
    });
    const on = (id: string, does: () => void) => byId(id)!.addEventListener('click', does);
    on('fit-start', () => void this.fit());
    on('fit-stop', () => this.stop('fit'));
    on('fit-save', () => this.fitView.save());
    on('next-start', () => void this.next());
    on('next-stop', () => this.stop('next'));
    on('sheet-save', () => this.sheetView.save());
    on('sheet-print', () => this.printSheet());
    on('sheet-log', () => this.takePlanned());
    byId('calibration-on')!.addEventListener('change', (event) => {
      if ((event.target as HTMLInputElement).checked) actions.text.put(['calibration'], CALIBRATION_FILE);
      else actions.text.remove(['calibration']);
    });
    this.filesChanged();
  }

  /** The campaign's files are others than before. */
  filesChanged(): void {
    const { files } = this.actions.about();
    const sheet = LogSheet.of(files);
    if (sheet?.text !== this.sheet?.text || sheet?.name !== this.sheet?.name || !sheet) {
      this.sheet = sheet;
      this.logView.take(sheet);
    }
    this.caseChanged();
  }

  caseChanged(): void {
    this.soon();
  }

  private showState(): void {
    const { files } = this.actions.about();
    const calibration = byId<HTMLInputElement>('calibration-on')!;
    const named = this.actions.text.valueAt(['calibration']);
    calibration.checked = named !== undefined;
    calibration.disabled = named === undefined && !Object.hasOwn(files, CALIBRATION_FILE);
    if (this.fitted !== undefined && this.fitted !== this.logText())
      byId('fit-state')!.textContent = 'The log has changed since the fit: fit again.';
  }

  /** Reads files and log anew in a worker. */
  private async read(): Promise<void> {
    this.showState();
    const about = this.actions.about();
    const { files, log, foretold } = await this.actions.crew.ask('trials', about, { kind: 'trials' });
    const { sheet } = this;
    this.fileList.show(files, sheet?.runs ?? [], (name) =>
      (sheet?.runs ?? []).filter(({ row }) => sheet!.filesOf(row).includes(name)).map(({ row }) => row),
    );
    lists(
      'log-files',
      files.filter(({ kind }) => kind === 'sizes').map(({ name }) => name),
    );
    const runs = sheet?.runs.length ?? 0;
    byId('log-count')!.textContent = log
      ? `${runs === 1 ? 'one run' : `${runs} runs`} in ${log.name}`
      : 'empty: type the first run here';
    const words = log ? [...log.faults.map(describeFault), ...log.flags] : [];
    byId('log-words')!.replaceChildren(
      ...words.map((each) =>
        element('li', { class: log!.faults.length > 0 ? 'fault' : undefined }, together(each)),
      ),
    );
    byId<HTMLButtonElement>('fit-start')!.disabled = !log || log.usable === 0;
    byId('foretold')!.innerHTML = foretold && `<h3>Predicted and measured</h3>${foretold}`;
    this.actions.measured(log?.measured ?? []);
  }

  /** Names of the machine's wheels, offered where one is typed. */
  wheels(names: readonly string[]): void {
    lists('log-wheels', names);
  }

  private logText(): string {
    return this.sheet?.text ?? '';
  }

  private writeLog(): void {
    const { sheet } = this;
    if (!sheet) return;
    const { files } = this.actions.about();
    if (sheet.runs.length === 0 && !Object.hasOwn(files, sheet.name)) return;
    this.actions.setFiles({ ...files, [sheet.name]: new TextEncoder().encode(sheet.text) });
  }

  private remove(name: string): void {
    const { [name]: _, ...rest } = this.actions.about().files;
    this.actions.setFiles(rest);
  }

  private use(name: string, as: string): void {
    const { text } = this.actions;
    if (text.valueAt(['feed', 'file']) === name && as !== 'feed') text.remove(['feed', 'file']);
    if (as === 'feed') text.putWhole(['feed'], { file: name });
    const { sheet } = this;
    if (!sheet) return;
    sheet.assign(name, as === 'new' ? sheet.add() : as === '' || as === 'feed' ? -1 : Number(as));
    this.logView.take(sheet);
    this.writeLog();
  }

  /** What a file leaves open is stated where the command line reads it: in the feed's block, or in the rows of the log. */
  private answer(file: FileFacts, option: string, value: string): void {
    if (value === '') return;
    if (file.feed) this.actions.text.put(['feed', option], value);
    const column = columnStating(option);
    const { sheet } = this;
    if (!sheet || column === undefined || file.runs.length === 0) return;
    for (const { row } of sheet.runs)
      if (sheet.filesOf(row).includes(file.name)) sheet.put(row, column, value);
    this.logView.take(sheet);
    this.writeLog();
  }

  private async fit(): Promise<void> {
    const { crew, about, text } = this.actions;
    const began = performance.now();
    const log = this.logText();
    const progress = byId<HTMLProgressElement & HTMLElement>('fit-progress')!;
    this.busy('fit', true, 'fitting');
    progress.value = 0;
    const reply = await crew
      .ask('long', about(), { kind: 'fit' }, 'fit', (share) => {
        progress.value = share;
        byId('fit-state')!.textContent = `fitting: ${Math.round(100 * share)} % of the samples`;
      })
      .catch((error: Error) => ({ noFit: error.message }));
    if ('noFit' in reply) return this.busy('fit', false, reply.noFit);
    if ('faults' in reply) return this.busy('fit', false, reply.faults.map(describeFault).join('; '));
    const bytes = new TextEncoder().encode(reply.calibration);
    this.fitted = log;
    this.actions.setFiles({ ...about().files, [CALIBRATION_FILE]: bytes });
    text.put(['calibration'], CALIBRATION_FILE);
    this.busy(
      'fit',
      false,
      `fitted in ${seconds(performance.now() - began)}; the case now uses ${CALIBRATION_FILE}`,
    );
    byId('fit-answer')!.replaceChildren(
      ...reply.answer.slice(0, -1).map((each) => element('p', {}, together(each))),
    );
    this.fitView.show(reply);
    byId('fit-whole')!.hidden = false;
    const shift = await crew.ask('long', about(), { kind: 'shift' }).catch(() => '');
    byId('shift')!.innerHTML = shift && `<h3>Before and after the calibration</h3>${shift}`;
  }

  private async next(): Promise<void> {
    const { crew, about } = this.actions;
    const began = performance.now();
    const visit = {
      trials: Number(byId<HTMLSelectElement>('next-trials')!.value),
      hours: Number(byId<HTMLInputElement>('next-hours')!.value),
      method: byId<HTMLSelectElement>('next-method')!.value as 'laser' | 'sieve',
    };
    if (!(visit.hours > 0 && visit.hours <= 1000))
      return this.busy('next', false, 'Hours available must be a number above 0, at most 1000.');
    this.busy('next', true, 'planning the next runs');
    const reply = await crew
      .ask('long', about(), { kind: 'next', visit })
      .catch((error: Error) => ({ faults: [{ place: '', message: error.message }] }));
    if ('faults' in reply) return this.busy('next', false, reply.faults.map(describeFault).join('; '));
    this.busy('next', false, `planned in ${seconds(performance.now() - began)}`);
    byId('next-answer')!.replaceChildren(...reply.answer.map((each) => element('p', {}, together(each))));
    this.planned = reply.planned;
    this.sheetView.show(reply);
    byId('sheet-whole')!.hidden = false;
    byId<HTMLButtonElement>('sheet-log')!.disabled = reply.planned.length === 0 || !this.sheet;
  }

  private takePlanned(): void {
    const { sheet } = this;
    if (!sheet) return;
    for (const each of this.planned) sheet.addPlanned(each);
    byId<HTMLButtonElement>('sheet-log')!.disabled = true;
    byId('next-state')!.textContent =
      'The planned runs stand in the log with the readings predicted for them.';
    this.logView.take(sheet);
    this.writeLog();
    byId<HTMLDetailsElement & HTMLElement>('log')!.open = true;
  }

  /** The run sheet alone on paper. */
  private printSheet(): void {
    document.body.classList.add('prints-sheet');
    addEventListener('afterprint', () => document.body.classList.remove('prints-sheet'), { once: true });
    print();
  }

  private stop(kind: 'fit' | 'next'): void {
    this.actions.crew.giveUp('long', kind);
    this.busy(kind, false, 'stopped');
  }

  private busy(kind: 'fit' | 'next', busy: boolean, words: string): void {
    byId(`${kind}-stop`)!.hidden = !busy;
    if (kind === 'fit') byId('fit-progress')!.hidden = !busy;
    byId(`${kind}-state`)!.textContent = words;
  }
}

/** Fills a list of values offered while typing. */
function lists(id: string, values: readonly string[]): void {
  byId(id)!.replaceChildren(...values.map((value) => element('option', { value })));
}

/** Style of a run sheet; a rule for the body of its page holds here for the sheet. */
function sheetStyle(): string {
  return byId('sheet-style')!.textContent!;
}
