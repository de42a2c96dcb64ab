import type { LevelGrid, Position } from '../../search/window/levels.ts';
import { valueAtPosition } from '../../search/window/levels.ts';
import { operatingWindow, type PlaneFields } from '../../search/window/window.ts';
import { label } from '../escape.ts';
import { surfacesFigure } from '../figures/surfaces.ts';
import { type Mark, type Measure, type WindowInput, windowFigure } from '../figures/window.ts';
import type { PlaneAxis } from '../live/plane.ts';
import type { ReportData } from '../report/report-data.ts';
import { quantityOf, type SweepTable } from '../report/sweep-table.ts';
import { levelsOf, sweepWindow } from '../report/sweep-window.ts';
import { levelsOver, tickText } from '../ticks.ts';
import type { ModelClient } from './client.ts';
import { Crosshair, type Spot } from './crosshair.ts';
import { byId, element, whenQuiet } from './dom.ts';
import type { Settings } from './settings.ts';
import type { Stage } from './stage.ts';

/** Quantities a reading shows even where there is little room. */
const MAIN = ['x50', 'x95', 'motorLoad', 'outletTemperature', 'feedAtChoke', 'passes', 'specificEnergy'];
/** Nodes along each axis of a plane solved in the page. */
const LIVE_NODES = 21;

/** What the window shows: two axes and a quantity. */
export interface Shown {
  readonly x: string;
  readonly y: string;
  readonly quantity: string;
}

/** The operating window: slices of the sweep, or a plane solved by the model where the settings left the sweep. */
export class WindowView {
  private readonly stage: Stage;
  private readonly settings: Settings;
  private readonly data: ReportData;
  private readonly table: SweepTable;
  private readonly grid: LevelGrid | undefined;
  private readonly client: ModelClient | undefined;
  private readonly crosshair: Crosshair;
  private readonly solveSoon = whenQuiet(20, () => void this.solve());
  private shown: Shown;
  private solved: PlaneFields | undefined;

  constructor(parts: {
    stage: Stage;
    settings: Settings;
    data: ReportData;
    table: SweepTable;
    grid: LevelGrid | undefined;
    client: ModelClient | undefined;
  }) {
    ({ stage: this.stage, settings: this.settings, data: this.data, table: this.table } = parts);
    this.grid = parts.grid;
    this.client = parts.client;
    const [x, y] = this.data.sweep!.axes!;
    this.shown = { x, y, quantity: this.data.sweep!.quantity };
    this.solved = this.data.plane;
    const plot = this.stage.plotOf('window')!;
    this.crosshair = new Crosshair(plot, () => this.stage.drawingOf('window'), 'reading', {
      read: (spot) => this.read(spot),
      pin: (spot) => this.settings.set({ [this.shown.x]: tidy(spot.x), [this.shown.y]: tidy(spot.y) }),
    });
    plot.closest('figure')!.addEventListener('painted', () => this.crosshair.fit());
    this.settings.onChange(() => this.update());
    this.buildChoices();
    this.update();
  }

  /** Whether every setting stands where the sweep has been. */
  inSweep(): boolean {
    if (!this.grid) return false;
    const factors = new Set(this.table.factors.map(({ path }) => path));
    return this.settings.moved().every((path) => factors.has(path)) && this.withinLevels();
  }

  private withinLevels(): boolean {
    return this.grid!.factors.every((factor) => {
      const value = this.settings.now[factor.path];
      if (value === undefined) return true;
      if (factor.kind === 'name') return factor.levels.includes(String(value));
      const [low, high] = [factor.levels[0]!, factor.levels.at(-1)!];
      const slack = 1e-6 * (high - low);
      return (value as number) >= low - slack && (value as number) <= high + slack;
    });
  }

  private position(): Position {
    return { ...this.data.position, ...this.settings.now };
  }

  private update(): void {
    const live = this.client !== undefined && !this.inSweep();
    byId('source')?.replaceChildren(this.sourceWords(live));
    if (live) this.solveSoon();
    else this.draw();
  }

  private sourceWords(live: boolean): string {
    if (!live)
      return this.grid
        ? 'From the sweep, linear between its points.'
        : 'Solved by the model on a lattice of these two factors.';
    return this.grid
      ? 'Live, not in the sweep: solved by the model in this page.'
      : 'Solved by the model in this page; dots are the points of the sweep.';
  }

  private async solve(): Promise<void> {
    const { shown } = this;
    this.solved = await this.client!.ask({
      kind: 'plane',
      changes: this.settings.changes(),
      x: this.axisOf(shown.x),
      y: this.axisOf(shown.y),
      quantity: shown.quantity,
    });
    if (shown === this.shown) this.draw();
  }

  private axisOf(path: string): PlaneAxis {
    const factor = this.table.factors.find((each) => each.path === path)!;
    const [low, high] = endsOf(factor.values);
    const levels = Float64Array.from(
      { length: LIVE_NODES },
      (_, i) => low + ((high - low) * i) / (LIVE_NODES - 1),
    );
    return { path, shownIn: factor.shownIn, levels, ...(factor.as ? { as: factor.as } : {}) };
  }

  private draw(): void {
    const input = this.input();
    if (!input) return;
    this.stage.show('window', (frame) => windowFigure.draw(input, frame));
    this.drawSurfaces();
    this.read(undefined);
  }

  private input(): WindowInput | undefined {
    const { x, y, quantity } = this.shown;
    const fromSweep = this.grid && (this.inSweep() || !this.client);
    const levels = levelsOf(quantityOf(this.table, quantity));
    const window = fromSweep
      ? sweepWindow(this.table, this.grid!, [x, y], this.position(), quantity)
      : this.solved &&
        operatingWindow(
          this.solved,
          levels.length > 0 ? levels : levelsOver(...endsOf(this.solved.quantity), false, 8),
        );
    if (!window) return undefined;
    return {
      window,
      x: this.measureOf(x),
      y: this.measureOf(y),
      quantity: quantityOf(this.table, quantity).measure,
      words: this.data.words,
      chokedBecause: this.data.chokedBecause,
      marks: this.marks(),
    };
  }

  private measureOf(path: string): Measure {
    return this.table.factors.find((factor) => factor.path === path)!.measure;
  }

  /** Marks that lie on this plane; those of another wheel or feed are left out. */
  private marks(): Mark[] {
    const { x, y } = this.shown;
    const at = this.position();
    const fixed = this.data.marks.filter((mark) =>
      Object.entries(mark.at).every(([path, value]) => path === x || path === y || near(at[path], value)),
    );
    const marks = fixed.map(
      ({ at: place, ...mark }): Mark => ({ ...mark, x: place[x] as number, y: place[y] as number }),
    );
    const here = { x: at[x] as number, y: at[y] as number };
    const onBest = marks.some(
      ({ kind, x: mx, y: my }) => kind === 'best' && near(mx, here.x) && near(my, here.y),
    );
    return [
      ...marks,
      ...(onBest ? [] : [{ kind: 'pinned' as const, name: 'pinned', ...here }]),
      ...this.samples(),
    ];
  }

  /** Points of a scattered sweep. */
  private samples(): Mark[] {
    if (this.grid) return [];
    const of = (path: string) => this.table.factors.find((factor) => factor.path === path)!.values;
    const [xs, ys] = [of(this.shown.x), of(this.shown.y)];
    const step = Math.max(1, Math.ceil(this.table.points / 600));
    return Array.from({ length: Math.floor(this.table.points / step) }, (_, i): Mark => {
      const row = i * step;
      return { kind: 'sample', name: '', x: xs[row]!, y: ys[row]! };
    });
  }

  private drawSurfaces(): void {
    const { grid, table } = this;
    if (!grid || !this.stage.has('surfaces')) return;
    const wheels = grid.factors.find(({ path, kind }) => path === 'wheel' && kind === 'name');
    const names = wheels ? (wheels.levels as readonly string[]) : [undefined];
    const { x, y, quantity } = this.shown;
    const at = this.position();
    this.stage.show('surfaces', (frame) =>
      surfacesFigure.draw(
        {
          planes: names.map((name) => ({
            name: name === undefined ? '' : label(name),
            window: sweepWindow(
              table,
              grid,
              [x, y],
              name === undefined ? at : { ...at, wheel: name },
              quantity,
            ),
          })),
          x: this.measureOf(x),
          y: this.measureOf(y),
          quantity: quantityOf(table, quantity).measure,
        },
        frame,
      ),
    );
  }

  private buildChoices(): void {
    const root = byId('window-choices');
    if (!root) return;
    const { table } = this;
    const select = (
      id: string,
      name: string,
      options: readonly (readonly [string, string])[],
      key: keyof Shown,
    ) => {
      const field = element(
        'select',
        { id },
        ...options.map(([value, text]) =>
          element('option', { value, selected: value === this.shown[key] }, text),
        ),
      );
      field.addEventListener('change', () => this.choose(key, field.value));
      root.append(element('label', { for: id }, name), field);
      return field;
    };
    const quantities = table.quantities.map(
      ({ of, measure }) => [of, measure.unit ? `${measure.name}, ${measure.unit}` : measure.name] as const,
    );
    select('choose-quantity', 'Colour shows', quantities, 'quantity');
    const numbers = table.factors
      .filter(({ names }) => !names)
      .map(({ path, measure }) => [path, measure.name] as const);
    if (numbers.length < 3) return;
    select('choose-x', 'across', numbers, 'x');
    select('choose-y', 'up', numbers, 'y');
  }

  private choose(key: keyof Shown, value: string): void {
    const next = { ...this.shown, [key]: value };
    // an axis chosen twice swaps with the other
    if (next.x === next.y) this.shown = { ...next, [key === 'x' ? 'y' : 'x']: this.shown[key] };
    else this.shown = next;
    for (const [id, own] of [
      ['choose-x', this.shown.x],
      ['choose-y', this.shown.y],
    ] as const) {
      const field = byId<HTMLSelectElement>(id);
      if (field) field.value = own;
    }
    this.update();
  }

  /** Reads out all quantities at a spot, or at the settings where the pointer is elsewhere. */
  private read(spot: Spot | undefined): void {
    const root = byId('reading');
    if (!root) return;
    const { x, y } = this.shown;
    const at = spot ? { ...this.position(), [x]: spot.x, [y]: spot.y } : this.position();
    const place = `${spot ? '' : 'Pinned: '}${this.measureOf(x).name} ${number(at[x] as number)} ${this.measureOf(x).unit}, ${this.measureOf(y).name} ${number(at[y] as number)} ${this.measureOf(y).unit}`;
    if (!this.grid || (this.client && !this.inSweep())) {
      root.replaceChildren(element('p', {}, `${place}. Pin it to read the numbers below.`));
      return;
    }
    const values = this.table.quantities.map((quantity) => ({
      quantity,
      value: valueAtPosition(this.grid!, quantity.values, at),
    }));
    const list = element('dl', {});
    for (const { quantity, value } of values) {
      const { name, unit } = quantity.measure;
      const row = element(
        'div',
        MAIN.includes(quantity.of) ? { class: 'main' } : {},
        element('dt', {}, name),
        element('dd', {}, `${number(value)} ${unit}`.trim()),
      );
      list.append(row);
    }
    root.replaceChildren(element('p', {}, `${place}: ${this.verdict(at)}`), list);
  }

  private verdict(at: Position): string {
    const grid = this.grid!;
    const margins = this.table.limits.map((limit) => ({
      limit,
      margin: valueAtPosition(grid, limit.values, at),
    }));
    if (margins.some(({ margin }) => Number.isNaN(margin))) return 'it chokes here, or near here.';
    const failing = margins.filter(({ margin }) => margin < 0);
    if (this.table.limits.length === 0) return 'no spec to meet.';
    if (failing.length === 0) return 'meets the whole spec.';
    return `fails ${failing.map(({ limit }) => limit.words).join(' and ')}.`;
  }
}

function endsOf(values: ArrayLike<number>): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    if (values[i]! < low) low = values[i]!;
    if (values[i]! > high) high = values[i]!;
  }
  return [low, high];
}

function near(a: number | string | undefined, b: number | string | undefined): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b));
}

/** Four digits: a place one can set at the machine. */
function tidy(value: number): number {
  return Number(value.toPrecision(4));
}

function number(value: number): string {
  return Number.isFinite(value) ? tickText(Number(value.toPrecision(4))) : '–';
}
