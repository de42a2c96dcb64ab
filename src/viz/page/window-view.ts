import type { Measure } from '../../answers/measure.ts';
import type { PlaneAxis } from '../../answers/plane.ts';
import { endsOf, quantityOf, type SweepTable } from '../../answers/sweep-table.ts';
import { type Bands, banded, levelsOf, operatingWindow, sweepWindow } from '../../answers/sweep-window.ts';
import type { LevelGrid, Position } from '../../search/window/levels.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import { windowFigure } from '../figures/window.ts';
import type { WindowInput } from '../figures/window-input.ts';
import type { ReportData } from '../report/report-data.ts';
import type { ModelClient } from './client.ts';
import { Crosshair, type Spot } from './crosshair.ts';
import { byId, element, whenQuiet } from './dom.ts';
import { readingOf, readNumber, shortReading } from './readout.ts';
import type { Settings } from './settings.ts';
import type { Stage } from './stage.ts';
import { SurfacesView } from './surfaces-view.ts';
import { type Shown, WindowChoices } from './window-choices.ts';
import { marksOn, samplesOn } from './window-marks.ts';

/** Nodes along each axis of a plane solved in the page: coarse as soon as a move rests, then finer. */
const RINGS = [11, 21] as const;
/** Rest after a move before a plane is solved [ms]. */
const REST = 120;

/** What of the window stands in the page's address, and by which name. */
const ASPECTS = [
  ['x', 'across'],
  ['y', 'up'],
  ['quantity', 'colour'],
] as const;

/** What the window works from. */
interface WindowParts {
  readonly stage: Stage;
  readonly settings: Settings;
  readonly data: ReportData;
  readonly table: SweepTable;
  /** Absent where the sweep's points are scattered. */
  readonly grid: LevelGrid | undefined;
  /** Absent where the page carries no model. */
  readonly client: ModelClient | undefined;
}

/** The operating window: slices of the sweep, or a plane solved by the model where the settings left the sweep. */
export class WindowView {
  private readonly parts: WindowParts;
  private readonly crosshair: Crosshair;
  private readonly surfaces: SurfacesView | undefined;
  private readonly solveSoon = whenQuiet(REST, () => void this.solve());
  private readonly readSoon = whenQuiet(REST, () => this.readOut(undefined));
  private readonly bandSoon = whenQuiet(350, () => void this.findBands());
  private readonly first: Shown;
  private readonly choices: WindowChoices | undefined;
  private readonly listeners: (() => void)[] = [];
  private shown: Shown;
  private solved: PlaneFields | undefined;
  /** Counts planes asked for, so that one that comes late is dropped. */
  private asked = 0;
  private bands: Bands;
  private showsBands: boolean;
  private readonly levelsFound = new Map<string, readonly number[]>();

  constructor(parts: WindowParts) {
    this.parts = parts;
    const { stage, settings, data, table, grid } = parts;
    this.surfaces = grid && new SurfacesView(stage, table, grid);
    const { axes, quantity } = data.sweep!;
    this.first = { x: axes![0], y: axes![1], quantity };
    this.shown = this.first;
    this.solved = data.plane;
    this.bands = data.bands ?? {};
    this.showsBands = data.showBands ?? false;
    const plot = stage.plotOf('window')!;
    this.crosshair = new Crosshair(plot, () => stage.drawingOf('window'), 'reading', {
      read: (spot) => this.readOut(spot),
      pinned: () => ({ x: Number(this.position[this.shown.x]), y: Number(this.position[this.shown.y]) }),
      pin: (spot) => settings.set({ [this.shown.x]: settable(spot.x), [this.shown.y]: settable(spot.y) }),
    });
    plot.closest('figure')!.addEventListener('painted', () => this.crosshair.fit());
    settings.onChange((changed) => this.moved(changed));
    const root = byId('window-choices');
    this.choices =
      root &&
      new WindowChoices(root, table, this.shown, {
        changed: this.choose,
        bands: this.toggleBands,
        showBands: this.showsBands,
      });
    this.update();
  }

  onChange(listener: () => void): void {
    this.listeners.push(listener);
  }

  /** Axes and quantity where they are not those shown at first. */
  read(): Record<string, string> {
    return Object.fromEntries(
      ASPECTS.filter(([key]) => this.shown[key] !== this.first[key]).map(([key, name]) => [
        name,
        this.shown[key],
      ]),
    );
  }

  /** Takes up what `read` gave; what is left out or unknown stands as at first. */
  write(state: Readonly<Record<string, string>>): void {
    const { table } = this.parts;
    const known = new Set([...table.factors.filter(({ names }) => !names).map(({ path }) => path)]);
    const asked = (key: keyof Shown, name: string) => {
      const value = state[name];
      const fits =
        key === 'quantity' ? table.quantities.some(({ of }) => of === value) : known.has(value ?? '');
      return fits ? value! : this.first[key];
    };
    const [x, y, quantity] = ASPECTS.map(([key, name]) => asked(key, name)) as [string, string, string];
    if (x === y || (x === this.shown.x && y === this.shown.y && quantity === this.shown.quantity)) return;
    this.choices?.show({ x, y, quantity });
    this.choose({ x, y, quantity }, true);
  }

  private readonly choose = (shown: Shown, axes: boolean): void => {
    this.shown = shown;
    if (axes) this.dropBands();
    this.update();
    for (const listener of this.listeners) listener();
  };

  private readonly toggleBands = (show: boolean): void => {
    this.showsBands = show;
    this.draw();
  };

  private moved(changed: readonly string[]): void {
    if (changed.some((path) => path !== this.shown.x && path !== this.shown.y)) this.dropBands();
    this.update();
  }

  /** Whether the settings stand where the sweep has been. */
  private get inSweep(): boolean {
    const { grid, settings } = this.parts;
    if (!grid) return false;
    const factors = new Set(grid.factors.map(({ path }) => path));
    return settings.moved().every((path) => factors.has(path)) && withinLevels(grid, settings.now);
  }

  private get fromSweep(): boolean {
    return this.parts.grid !== undefined && (this.inSweep || !this.parts.client);
  }

  private get position(): Position {
    return { ...this.parts.data.position, ...this.parts.settings.now };
  }

  private update(): void {
    const live = this.parts.client !== undefined && !this.inSweep;
    this.asked++;
    byId('source')?.replaceChildren(sourceWords(live, this.parts.grid !== undefined));
    if (live) this.solveSoon();
    else this.draw();
  }

  private async solve(): Promise<void> {
    const { shown } = this;
    const changes = this.parts.settings.changes();
    const asked = ++this.asked;
    for (const nodes of RINGS) {
      const [x, y] = [this.axisOf(shown.x, nodes), this.axisOf(shown.y, nodes)];
      const solved = await this.parts.client!.ask({ kind: 'plane', changes, x, y, quantity: shown.quantity });
      if (shown !== this.shown || asked !== this.asked) return;
      this.solved = solved;
      this.draw();
    }
  }

  /** Bands belong to the settings they were found at; new ones are found when the settings rest. */
  private dropBands(): void {
    this.bands = {};
    this.parts.client?.giveUp('bands');
    if (this.parts.client) this.bandSoon();
  }

  private async findBands(): Promise<void> {
    const { shown } = this;
    const [x, y] = [this.axisOf(shown.x, RINGS[1]), this.axisOf(shown.y, RINGS[1])];
    const bands = await this.parts.client!.ask({
      kind: 'bands',
      changes: this.parts.settings.changes(),
      x,
      y,
    });
    if (shown !== this.shown) return;
    this.bands = bands;
    this.draw();
  }

  private axisOf(path: string, nodes: number): PlaneAxis {
    const factor = this.parts.table.factors.find((each) => each.path === path)!;
    const [low, high] = endsOf(factor.values);
    const levels = Float64Array.from({ length: nodes }, (_, i) => low + ((high - low) * i) / (nodes - 1));
    return { path, shownIn: factor.shownIn, levels, ...(factor.as ? { as: factor.as } : {}) };
  }

  private draw(): void {
    if (!this.fromSweep && !this.solved) return;
    // contours are traced when the figure is painted, not before
    this.parts.stage.show('window', (frame) => windowFigure.draw(this.input()!, frame));
    this.surfaces?.show(this.position, this.shown, this.levels(this.shown.quantity));
    this.readSoon();
  }

  private input(): WindowInput | undefined {
    const { table, grid, data } = this.parts;
    const { x, y, quantity } = this.shown;
    const bands = this.showsBands ? this.bands : {};
    const colored = quantityOf(table, quantity);
    const levels = this.levels(quantity);
    const window = this.fromSweep
      ? sweepWindow(table, grid!, [x, y], this.position, quantity, levels, bands)
      : this.solved && operatingWindow(banded(this.solved, bands), levels);
    if (!window) return undefined;
    const marks = marksOn(data, table, x, y, this.position);
    return {
      window,
      x: this.measureOf(x),
      y: this.measureOf(y),
      quantity: colored.measure,
      words: data.words,
      chokedBecause: data.chokedBecause,
      marks: grid ? marks : [...marks, ...samplesOn(table, x, y)],
    };
  }

  /** Levels of a quantity over the whole sweep, found once. */
  private levels(quantity: string): readonly number[] {
    let levels = this.levelsFound.get(quantity);
    if (!levels) {
      levels = levelsOf(quantityOf(this.parts.table, quantity));
      this.levelsFound.set(quantity, levels);
    }
    return levels;
  }

  private measureOf(path: string): Measure {
    return this.parts.table.factors.find((factor) => factor.path === path)!.measure;
  }

  /** Reads out all quantities at a spot, or at the settings where the pointer is elsewhere; returns the short of it. */
  private readOut(spot: Spot | undefined): string {
    const root = byId('reading');
    const { grid, table } = this.parts;
    const { x, y } = this.shown;
    const at = spot ? { ...this.position, [x]: spot.x, [y]: spot.y } : this.position;
    const words = [x, y].map((path) => {
      const { name, unit } = this.measureOf(path);
      return `${name} ${readNumber(at[path] as number, 5)} ${unit}`.trim();
    });
    const place = `${spot ? '' : 'Pinned: '}${words.join(', ')}`;
    // at the point pinned the numbers are the model's own, in the table below
    if (this.fromSweep && grid && (spot || !this.parts.client)) {
      root?.replaceChildren(...readingOf(table, grid, at, place));
      return shortReading(table, grid, at, place, this.shown.quantity);
    }
    root?.replaceChildren(
      element(
        'p',
        {},
        spot ? `${place}. Pin it to read the numbers below.` : `${place}: its numbers stand below.`,
      ),
    );
    return place;
  }
}

function withinLevels(grid: LevelGrid, now: Position): boolean {
  return grid.factors.every((factor) => {
    const value = now[factor.path];
    if (value === undefined) return true;
    if (factor.kind === 'name') return factor.levels.includes(String(value));
    const [low, high] = [factor.levels[0]!, factor.levels.at(-1)!];
    const slack = 1e-6 * (high - low);
    return (value as number) >= low - slack && (value as number) <= high + slack;
  });
}

function sourceWords(live: boolean, grid: boolean): string {
  if (live) {
    return grid
      ? 'Live, not in the sweep: solved by the model in this page.'
      : 'Solved by the model in this page; dots are the points of the sweep.';
  }
  return grid
    ? 'From the sweep, linear between its points.'
    : 'Solved by the model on a lattice of these two factors.';
}

/** Four digits: a place one can set at the machine. */
function settable(value: number): number {
  return Number(value.toPrecision(4));
}
