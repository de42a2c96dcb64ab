import type { CaseFacts } from '../../answers/desk/case-facts.ts';
import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import { joinPlanes, readPlane } from '../../answers/desk/join-planes.ts';
import { type AxisChoice, axisLevels, roundedOn, type WindowOffer } from '../../answers/desk/window-axes.ts';
import type { MeasuredTrial } from '../../answers/measured-trials.ts';
import { type Bands, banded, levelsOf, operatingWindow } from '../../answers/sweep-window.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import { windowFigure } from '../figures/window.ts';
import type { Mark } from '../figures/window-input.ts';
import { trialMarks } from '../report/marks-on-plane.ts';
import { tickText } from '../ticks.ts';
import type { StatePart } from './address.ts';
import type { Crew } from './crew.ts';
import { Crosshair, type Spot } from './crosshair.ts';
import { byId, element, whenQuiet } from './dom.ts';
import type { Stage } from './stage.ts';

/** Nodes along each axis, ring by ring: coarse as soon as a move rests, then finer. */
const RINGS = [9, 21, 41] as const;
/** Rest after a move before the window is computed anew [ms]. */
const REST = 140;
/** Nodes a worker solves at a stretch: what is no longer wanted is given up between two. */
const STRETCH = 90;
const PLANES = ['plane 1', 'plane 2'] as const;

/** Settings taken from the plane: path and text with its unit. */
export type Pinned = readonly { readonly path: string; readonly text: string }[];

type Chosen = { readonly x: string; readonly y: string; readonly quantity: string };

/** The operating window of the case, computed here in two workers. */
export class CaseWindow implements StatePart {
  private readonly stage: Stage;
  private readonly crew: Crew;
  private readonly listeners: (() => void)[] = [];
  private readonly crosshair: Crosshair;
  private about: CaseFiles | undefined;
  private facts: CaseFacts | undefined;
  private plane: PlaneFields | undefined;
  private measured: readonly MeasuredTrial[] = [];
  private wish: Partial<Chosen> = {};
  private bands: Bands = {};
  private showsBands = false;
  private shownChoices = '';
  /** Counts computations, so that what comes late is dropped. */
  private turn = 0;
  private readonly soon = whenQuiet(REST, () => void this.compute());

  constructor(stage: Stage, crew: Crew, pin: (pinned: Pinned) => void) {
    this.stage = stage;
    this.crew = crew;
    const plot = stage.plotOf('window')!;
    this.crosshair = new Crosshair(plot, () => stage.drawingOf('window'), 'reading', {
      read: (spot) => this.readOut(spot),
      pinned: () => ({ x: this.axis('x')?.at ?? 0, y: this.axis('y')?.at ?? 0 }),
      pin: (spot) => pin(this.settingsAt(spot)),
    });
    plot.closest('figure')!.addEventListener('painted', () => this.crosshair.fit());
    byId('window-bands')!.addEventListener('change', (event) => {
      this.showsBands = (event.target as HTMLInputElement).checked;
      if (this.showsBands) void this.findBands();
      this.redraw();
    });
    byId('window-stop')!.addEventListener('click', () => this.stop());
  }

  read(): Readonly<Record<string, string>> {
    const { x, y, quantity } = this.wish;
    return { ...(x && { across: x }), ...(y && { up: y }), ...(quantity && { colour: quantity }) };
  }

  write({ across, up, colour }: Readonly<Record<string, string>>): void {
    this.wish = { ...(across && { x: across }), ...(up && { y: up }), ...(colour && { quantity: colour }) };
    if (this.facts) void this.compute();
  }

  onChange(listener: () => void): void {
    this.listeners.push(listener);
  }

  /** A new case: what was computed for the one before is given up. */
  take(about: CaseFiles, facts: CaseFacts): void {
    this.about = about;
    this.facts = facts;
    this.turn++;
    this.soon();
  }

  /** Measured runs, marked where they lie on the plane. */
  setMeasured(measured: readonly MeasuredTrial[]): void {
    this.measured = measured;
    this.redraw();
  }

  /** Nothing is computed while the case has faults. */
  giveUp(): void {
    this.turn++;
    this.facts = undefined;
    this.plane = undefined;
  }

  private stop(): void {
    this.turn++;
    this.progress('stopped; change any setting to go on', 1, false);
  }

  private chosen({ axes, first, quantities, quantity }: WindowOffer): Chosen | undefined {
    if (!first) return undefined;
    const known = (path: string | undefined) => axes.some((axis) => axis.path === path);
    const x = known(this.wish.x) ? this.wish.x! : first[0];
    const wanted = known(this.wish.y) ? this.wish.y! : first[1];
    const y = wanted !== x ? wanted : axes.find(({ path }) => path !== x)!.path;
    const coloured = quantities.some(({ of }) => of === this.wish.quantity) ? this.wish.quantity! : quantity;
    return { x, y, quantity: coloured };
  }

  private axis(which: 'x' | 'y'): AxisChoice | undefined {
    const offer = this.facts?.window;
    const chosen = offer && this.chosen(offer);
    return chosen && offer.axes.find(({ path }) => path === chosen[which]);
  }

  private async compute(): Promise<void> {
    const turn = ++this.turn;
    this.bands = {};
    byId('window-bands-state')!.textContent = '';
    this.crew.giveUp('rest', 'limits');
    const { about, facts } = this;
    if (!about || !facts) return;
    const chosen = this.chosen(facts.window);
    byId('window')!.hidden = !chosen;
    if (!chosen) return;
    this.choices(facts.window, chosen);
    const all = RINGS.reduce((sum, nodes) => sum + nodes * nodes, 0);
    let done = 0;
    for (const nodes of RINGS) {
      this.progress(
        `${done === 0 ? 'computing' : 'refining to'} ${nodes} × ${nodes} points`,
        done / all,
        true,
      );
      const plane = await this.ring(turn, about, chosen, nodes);
      if (!plane) return;
      if (turn !== this.turn) return;
      this.plane = plane;
      this.draw(plane, chosen);
      done += nodes * nodes;
    }
    this.progress(`${done} points computed`, 1, false);
    if (this.showsBands) void this.findBands();
  }

  /** Where each limit may lie over samples of the coefficients, for the case and axes now shown. */
  private async findBands(): Promise<void> {
    const { turn, about } = this;
    const [x, y] = [this.axis('x'), this.axis('y')];
    if (!about || !x || !y) return;
    byId('window-bands-state')!.textContent = 'computing';
    const job = { kind: 'limits', x: axisLevels(x, RINGS[0]), y: axisLevels(y, RINGS[0]) } as const;
    const bands = await this.crew.ask('rest', about, job);
    if (turn !== this.turn) return;
    this.bands = bands;
    byId('window-bands-state')!.textContent = '';
    this.redraw();
  }

  /** One ring, in stretches shared out among the workers; undefined where it is no longer wanted. */
  private async ring(
    turn: number,
    about: CaseFiles,
    { quantity }: Chosen,
    nodes: number,
  ): Promise<PlaneFields | undefined> {
    const x = axisLevels(this.axis('x')!, nodes);
    const stretches = splitAxis(axisLevels(this.axis('y')!, nodes), Math.ceil((nodes * nodes) / STRETCH));
    const parts: PlaneFields[] = [];
    let begun = 0;
    const work = async (lane: (typeof PLANES)[number]) => {
      while (begun < stretches.length && turn === this.turn) {
        const k = begun++;
        const job = { kind: 'plane', x, y: stretches[k]!, quantity } as const;
        parts[k] = await this.crew.ask(lane, about, job, `plane ${turn} ${k}`);
      }
    };
    await Promise.all(PLANES.map(work));
    return turn === this.turn ? joinPlanes(parts) : undefined;
  }

  private redraw(): void {
    const chosen = this.facts && this.chosen(this.facts.window);
    if (this.plane && chosen) this.draw(this.plane, chosen);
  }

  private draw(plane: PlaneFields, chosen: Chosen): void {
    const facts = this.facts!;
    const [x, y] = [this.axis('x')!, this.axis('y')!];
    const { of, measure } = facts.window.quantities.find((each) => each.of === chosen.quantity)!;
    const levels = levelsOf({
      of,
      measure,
      meaning: '',
      logarithmic: plane.logarithmic,
      values: plane.quantity,
    });
    const marks: Mark[] = [...this.trialMarks(x, y), { kind: 'pinned', x: x.at, y: y.at, name: 'this case' }];
    const input = {
      window: operatingWindow(this.showsBands ? banded(plane, this.bands) : plane, levels),
      x: x.measure,
      y: y.measure,
      quantity: measure,
      words: facts.words,
      chokedBecause: 'more returns than the mill can carry',
      marks: marks.filter((mark) => within(mark.x, x) && within(mark.y, y)),
    };
    this.stage.show('window', (frame) => windowFigure.draw(input, frame));
  }

  private trialMarks({ path: x }: AxisChoice, { path: y }: AxisChoice): Mark[] {
    const { window, wheel } = this.facts!;
    const at = { ...Object.fromEntries(window.axes.map((axis) => [axis.path, axis.at])), wheel };
    return trialMarks(this.measured, [x, y], at, (path, value) => {
      const unit = window.axes.find((axis) => axis.path === path)?.measure.unit ?? '';
      return typeof value === 'number' ? `${shown(value)} ${unit}`.trim() : value.split('-').join(' ');
    });
  }

  private readOut(spot: Spot | undefined): string {
    const [x, y] = [this.axis('x'), this.axis('y')];
    const { facts, plane } = this;
    if (!x || !y || !facts || !plane || !spot) return '';
    const { value, chokes, missed } = readPlane(plane, spot.x, spot.y);
    const chosen = this.chosen(facts.window)!;
    const { measure } = facts.window.quantities.find(({ of }) => of === chosen.quantity)!;
    const place = `${x.measure.name} ${shown(spot.x)} ${x.measure.unit}, ${y.measure.name} ${shown(spot.y)} ${y.measure.unit}`;
    const verdict = chokes
      ? 'the mill chokes'
      : missed.length > 0
        ? `fails ${missed.map((name) => facts.words[name] ?? name).join('; ')}`
        : facts.requirements.length > 0
          ? 'meets the whole spec'
          : '';
    const number = Number.isFinite(value) ? `${measure.name} ${shown(value)} ${measure.unit}`.trim() : '';
    byId('reading')!.replaceChildren(element('p', {}, [place, number, verdict].filter(Boolean).join(': ')));
    return [place, number, verdict].filter(Boolean).join('\n');
  }

  private settingsAt(spot: Spot): Pinned {
    return (['x', 'y'] as const).flatMap((which) => {
      const axis = this.axis(which);
      return axis
        ? [{ path: axis.path, text: `${roundedOn(axis, spot[which])} ${unitText(axis)}`.trim() }]
        : [];
    });
  }

  private choices({ axes, quantities }: WindowOffer, chosen: Chosen): void {
    const key = JSON.stringify([axes.map(({ path }) => path), chosen]);
    if (key === this.shownChoices) return;
    this.shownChoices = key;
    const choice = (name: keyof Chosen, words: string, options: readonly (readonly [string, string])[]) => {
      const select = element(
        'select',
        { id: `window-${name}` },
        ...options.map(([value, text]) => element('option', { value }, text)),
      );
      select.value = chosen[name];
      select.addEventListener('change', () => {
        this.wish = { ...chosen, [name]: select.value };
        void this.compute();
        for (const listener of this.listeners) listener();
      });
      return [element('label', { for: `window-${name}` }, words), select];
    };
    const paths = axes.map(({ path, measure }) => [path, measure.name] as const);
    const active = document.activeElement?.id;
    byId('window-choices')!.replaceChildren(
      ...choice('x', 'Across', paths),
      ...choice('y', 'Up', paths),
      ...choice(
        'quantity',
        'Colour',
        quantities.map(({ of, measure }) => [of, measure.name] as const),
      ),
    );
    if (active?.startsWith('window-')) byId(active)?.focus();
  }

  private progress(words: string, share: number, busy: boolean): void {
    byId('window-state')!.textContent = words;
    byId<HTMLProgressElement & HTMLElement>('window-progress')!.value = share;
    byId('window-progress')!.hidden = !busy;
    byId('window-stop')!.hidden = !busy;
  }
}

const shown = (value: number): string => tickText(Number(value.toPrecision(4)));

function within(value: number, { from, to }: AxisChoice): boolean {
  return value >= Math.min(from, to) && value <= Math.max(from, to);
}

function unitText({ shownIn }: AxisChoice): string {
  return shownIn === '1' ? '' : shownIn;
}

/** An axis in stretches of nearly equal length, none empty. */
function splitAxis<A extends { readonly levels: Float64Array }>(axis: A, count: number): A[] {
  const { length } = axis.levels;
  const pieces = Math.min(count, length);
  const edge = (k: number) => Math.round((k * length) / pieces);
  return Array.from({ length: pieces }, (_, k) => ({
    ...axis,
    levels: axis.levels.slice(edge(k), edge(k + 1)),
  }));
}
