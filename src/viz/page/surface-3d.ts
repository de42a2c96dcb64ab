import { type Measure, measureText } from '../../answers/measure.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import type { Theme } from '../theme.ts';
import { byId, element } from './dom.ts';
import { runPacked } from './packed-script.ts';
import { plotText } from './plot-text.ts';
import { surfaceSpec } from './surface-spec.ts';

/** One quantity as a height over two factors. */
interface ReliefInput {
  readonly plane: PlaneFields;
  readonly x: Measure;
  readonly y: Measure;
  readonly quantity: Measure;
  /** Ends of the colours. */
  readonly levels: readonly number[];
  readonly theme: Theme;
}

/** What of the plotting library is used. */
interface Plotting {
  react(root: HTMLElement, data: unknown, layout: unknown, config: unknown): Promise<unknown>;
}

declare const Plotly: Plotting | undefined;

const CONFIG = { displayModeBar: false, displaylogo: false, responsive: false, doubleClick: false } as const;

const HEIGHT = 480;
/** Where one looks from at first [degrees about the upright], and how far and high. */
const FIRST = 320;
const AWAY = 1.75;
const ABOVE = 0.85;
/** So that the names of the axes stay in the picture. */
const CENTRE = { x: 0, y: 0, z: -0.22 };

/** The pinned wheel's surface in three dimensions; the plotting library starts when it is first opened. */
export class Relief {
  private input: ReliefInput | undefined;
  private readonly plot = element('div', { class: 'plot', role: 'img' });
  private readonly turn = element('input', { type: 'range', id: 'turn', min: 0, max: 360, value: FIRST });
  private open = false;
  private started: Promise<void> | undefined;

  constructor() {
    const button = byId('show-relief');
    const root = byId('relief');
    if (!button || !root) return;
    button.hidden = false;
    root.append(this.plot, element('label', { class: 'turn', for: 'turn' }, 'turn it ', this.turn));
    this.turn.addEventListener('input', () => this.draw());
    button.addEventListener('click', () => {
      this.open = !this.open;
      root.hidden = !this.open;
      button.setAttribute('aria-expanded', String(this.open));
      button.setAttribute('aria-busy', 'true');
      this.started ??= runPacked('plotly');
      void this.started.then(() => {
        button.removeAttribute('aria-busy');
        this.draw();
      });
    });
  }

  show(input: ReliefInput): void {
    this.input = input;
    this.draw();
  }

  private draw(): void {
    const { input, plot } = this;
    if (!this.open || !input || typeof Plotly === 'undefined') return;
    const { plane, x, y, quantity, levels, theme } = input;
    const width = Math.min(760, plot.clientWidth || plot.parentElement!.clientWidth);
    const across = plane.lattice.x.length;
    const z = Array.from(plane.lattice.y, (_, row) =>
      Array.from(plane.quantity.subarray(row * across, (row + 1) * across)),
    );
    const surface = surfaceSpec({
      x: plane.lattice.x,
      y: plane.lattice.y,
      z,
      colors: theme.scale,
      range: [levels[0] ?? 0, levels.at(-1) ?? 1],
    });
    const words = `${measureText(quantity)}, as a height over ${x.name} and ${y.name}; where it chokes there is none.`;
    plot.setAttribute('aria-label', words);
    const layout = {
      width,
      height: HEIGHT,
      margin: { l: 0, r: 0, t: 0, b: 0 },
      paper_bgcolor: 'rgba(0,0,0,0)',
      font: { color: theme.soft, size: 11 },
      scene: {
        xaxis: sceneAxis(x, theme),
        yaxis: sceneAxis(y, theme),
        zaxis: sceneAxis(quantity, theme),
        camera: { eye: eyeAt(Number(this.turn.value)), center: CENTRE },
      },
    };
    void Plotly.react(plot, [surface], layout, CONFIG);
  }
}

function sceneAxis(measure: Measure, theme: Theme) {
  return {
    title: { text: plotText(measureText(measure)) },
    color: theme.soft,
    gridcolor: theme.grid,
    zerolinecolor: theme.grid,
    showspikes: false,
    nticks: 5,
  };
}

function eyeAt(degrees: number) {
  const angle = (degrees * Math.PI) / 180;
  return { x: AWAY * Math.cos(angle), y: AWAY * Math.sin(angle), z: ABOVE };
}
