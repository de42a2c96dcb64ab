import { entriesIn, isEntry } from '../../answers/desk/campaign-log.ts';
import type { CaseFacts } from '../../answers/desk/case-facts.ts';
import type { CaseFiles, Shelf } from '../../answers/desk/desk-files.ts';
import { type MeasuredTrial, measuredNear } from '../../answers/measured-trials.ts';
import type { PointView, SizeLine } from '../../answers/point-view.ts';
import { together } from '../../answers/text.ts';
import { describeFault, type Fault } from '../../scenario/errors.ts';
import type { CaseReply } from '../desk/jobs.ts';
import { balanceFigure } from '../figures/balance.ts';
import { chokeFigure } from '../figures/choke.ts';
import { gradeFigure } from '../figures/grade.ts';
import { ladderFigure } from '../figures/ladder.ts';
import { sizeCurveFigure } from '../figures/size-curve.ts';
import { CaseForm } from './case-form.ts';
import type { CaseText } from './case-text.ts';
import { CaseWindow } from './case-window.ts';
import type { Crew } from './crew.ts';
import { byId, element, whenQuiet } from './dom.ts';
import { OF_PRODUCT } from './point-panel.ts';
import { Stage } from './stage.ts';
import { TextView } from './text-view.ts';

type Solved = Exclude<CaseReply, { readonly faults: unknown }>;

/** The desk's columns, brought up to date whenever the case changes: the point first, then the window, then the rest. */
export class DeskPage {
  readonly window: CaseWindow;
  private readonly crew: Crew;
  private readonly text: CaseText;
  readonly stage = new Stage();
  private readonly form: CaseForm;
  private readonly textView: TextView;
  private files: CaseFiles['files'] = {};
  /** The grade asked about; undefined for all. */
  private grade: string | undefined;
  private feed: SizeLine | undefined;
  private measured: readonly MeasuredTrial[] = [];
  private view: PointView | undefined;
  private facts: CaseFacts | undefined;
  private readonly listeners: ((facts: CaseFacts) => void)[] = [];
  private turn = 0;
  /** The case the answer is of; absent while the case has faults. */
  private solved: CaseFiles | undefined;
  /** What a figure says of where it comes from, when it leaves the page. */
  source = '';
  private readonly answerSoon = whenQuiet(180, () => void this.answer());
  /** Numbers and form follow when a move rests: while it lasts the curves have the page to themselves. */
  private readonly formSoon = whenQuiet(100, () => this.showForm());
  private numbers: Solved['parts'] | undefined;
  private asked = false;
  private readonly restSoon = whenQuiet(180, () => void this.rest());

  constructor(crew: Crew, text: CaseText, shelf: Shelf) {
    this.crew = crew;
    this.text = text;
    this.form = new CaseForm(byId('form')!, text, shelf, {
      feed: () => this.feed,
      entries: (kind) => entriesIn(this.files, kind),
    });
    this.textView = new TextView(text);
    this.window = new CaseWindow(this.stage, crew, (pinned) => {
      for (const { path, text: value } of pinned)
        text.put(path.includes('.') ? path.split('.') : ['settings', path], value);
    });
    text.onChange(() => this.changed());
    byId<HTMLSelectElement>('grade')!.addEventListener('change', ({ currentTarget }) => {
      this.grade = (currentTarget as HTMLSelectElement).value || undefined;
      this.changed();
    });
  }

  /** The case as it is now. */
  about(): CaseFiles {
    const { grade, files } = this;
    return { text: this.text.text, files, ...(grade === undefined ? {} : { grade }) };
  }

  /** Files beside the case, such as a measured feed. */
  setFiles(files: CaseFiles['files']): void {
    this.files = files;
    this.changed();
  }

  /** Runs measured: marks of the window, and curves beside the point's own. */
  setMeasured(measured: readonly MeasuredTrial[]): void {
    this.measured = measured;
    this.window.setMeasured(measured);
    this.drawSizes();
  }

  onSolved(listener: (facts: CaseFacts) => void): void {
    this.listeners.push(listener);
  }

  /** Another case with its files in place of this one. */
  take({ text, files }: CaseFiles): void {
    this.files = files;
    this.grade = undefined;
    if (text === this.text.text) this.changed();
    else this.text.set(text);
  }

  changed(): void {
    this.textView.update();
    if (this.asked) return;
    // several changes of one moment are one case
    this.asked = true;
    queueMicrotask(() => {
      this.asked = false;
      void this.solve();
    });
  }

  private async solve(): Promise<void> {
    const turn = ++this.turn;
    this.crew.giveUp('rest', 'answer', 'ladder', 'bands', 'changes');
    this.stage.awaitPoint();
    const about = ofTheCase(this.about());
    const reply = await this.crew.ask('point', about, { kind: 'case' });
    if (turn !== this.turn) return;
    if ('faults' in reply) this.showFaults(reply.faults);
    else this.showAnswer(about, reply);
  }

  private showFaults(faults: readonly Fault[]): void {
    this.solved = undefined;
    document.body.classList.add('faulty');
    this.window.giveUp();
    this.form.update({ text: this.text, faults });
    const count = faults.length === 1 ? 'One fault' : `${faults.length} faults`;
    const pending = byId('pending')!;
    pending.hidden = false;
    pending.textContent = `${count} in the case: the answer follows when ${faults.length === 1 ? 'it is' : 'they are'} corrected.`;
    byId('faults')!.replaceChildren(
      element('strong', {}, `${count} in the case`),
      element(
        'ul',
        {},
        ...faults.map((fault) => {
          const button = element('button', { type: 'button' }, describeFault(fault));
          button.addEventListener('click', () => this.textView.goTo(fault.line ?? 1));
          return element('li', {}, button);
        }),
      ),
    );
  }

  private showAnswer(about: CaseFiles, { facts, view, state, parts }: Solved): void {
    const { stage } = this;
    document.body.classList.remove('faulty');
    // until the sentence is computed anew it is that of the case before
    document.body.classList.add('older');
    document.body.classList.toggle('chokes', !view.curves);
    byId('pending')!.hidden = true;
    byId('faults')!.replaceChildren();
    this.solved = about;
    this.view = view;
    this.facts = facts;
    this.offerGrades(facts.grades);
    this.source = facts.source;
    byId('desk-title')!.textContent = facts.title;
    document.title = `${facts.title}: grindloop desk`;
    byId('pinned-state')!.textContent = together(state);
    if (view.curves) {
      const { behind, grade, balance } = view.curves;
      this.feed = behind[0];
      this.drawSizes();
      stage.show('grade-efficiency', (frame) => gradeFigure.draw({ lines: grade }, frame));
      stage.show('balance', (frame) => balanceFigure.draw(balance, frame));
    } else for (const id of OF_PRODUCT) stage.clear(id);
    stage.show('choke', (frame) => chokeFigure.draw(view.choke, frame));
    this.numbers = parts;
    this.formSoon();
    this.window.take(about, facts);
    for (const listener of this.listeners) listener(facts);
    this.answerSoon();
  }

  /** Which grade is asked about; nothing to choose where the case has none. */
  private offerGrades(names: readonly string[]): void {
    if (this.grade !== undefined && !names.includes(this.grade)) this.grade = undefined;
    byId('grade-choice')!.hidden = names.length === 0;
    const option = (value: string, text: string) =>
      element('option', { value, ...(value === (this.grade ?? '') ? { selected: '' } : {}) }, text);
    byId('grade')!.replaceChildren(
      option('', 'what holds for all grades'),
      ...names.map((name) => option(name, name)),
    );
  }

  private showForm(): void {
    const { facts, numbers, solved } = this;
    if (!facts || !numbers || !solved) return;
    fill(numbers);
    this.form.update({ text: this.text, facts, faults: [] });
  }

  /** The answer in words; then what takes longer. */
  private async answer(): Promise<void> {
    const { turn, solved } = this;
    if (!solved) return;
    const parts = await this.crew.ask('rest', solved, { kind: 'answer' });
    if (turn !== this.turn) return;
    fill(parts);
    document.body.classList.remove('older');
    this.restSoon();
  }

  /** The point's size curve, with what was measured at its settings. */
  private drawSizes(): void {
    const { curves } = this.view ?? {};
    if (!curves || !this.facts) return;
    const at = Object.fromEntries(this.facts.window.axes.map((axis) => [axis.path, axis.at]));
    const { product, behind, gates } = curves;
    const measured = measuredNear(this.measured, { ...at, wheel: this.facts.wheel });
    this.stage.show('size-curve', (frame) =>
      sizeCurveFigure.draw({ product, behind, gates, measured }, frame),
    );
  }

  /** What takes longer: the ladder, its bands, and which setting to change. */
  private async rest(): Promise<void> {
    const { turn, solved: about } = this;
    if (!about) return;
    const current = () => turn === this.turn;
    const ladder = await this.crew.ask('rest', about, { kind: 'ladder' });
    if (!current()) return;
    this.stage.show('ladder', (frame) => ladderFigure.draw(ladder, frame));
    const changes = await this.crew.ask('rest', about, { kind: 'changes' });
    if (!current()) return;
    byId('part-changes')!.innerHTML = changes;
    const banded = await this.crew.ask('rest', about, { kind: 'bands', ladder });
    if (current()) this.stage.show('ladder', (frame) => ladderFigure.draw(banded, frame));
  }
}

/** Sections of the page by their names. */
function fill(parts: Readonly<Record<string, string>>): void {
  for (const [name, html] of Object.entries(parts)) byId(`part-${name}`)!.innerHTML = html;
}

/** The case with the files it may read: those it names, and library files, which may name others. */
function ofTheCase({ text, files, ...rest }: CaseFiles): CaseFiles {
  const read = Object.entries(files).filter(([name]) => text.includes(name) || isEntry(name, files[name]!));
  return { text, files: Object.fromEntries(read), ...rest };
}
