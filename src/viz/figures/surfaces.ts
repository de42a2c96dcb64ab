import { type Measure, measureText } from '../../answers/measure.ts';
import { meetsWords } from '../../answers/table-verdict.ts';
import type { OperatingWindow } from '../../search/window/window.ts';
import type { AxisPair, Drawing, Figure, Frame, LineTrace, Note } from '../drawing.ts';
import type { Theme } from '../theme.ts';
import { axis, tickText } from '../ticks.ts';
import { PanelSeating } from './curves.ts';
import { rowsOfPanels } from './panels.ts';
import { bandsOf, hatchOf, joined, outlineOf } from './window-layers.ts';

export interface SurfacesInput {
  /** One plane a wheel, all with the same levels. */
  readonly planes: readonly { readonly name: string; readonly window: OperatingWindow }[];
  readonly x: Measure;
  readonly y: Measure;
  readonly quantity: Measure;
}

/** One quantity over two factors, side by side for each wheel, in the same colours. */
export const surfacesFigure: Figure<SurfacesInput> = { name: 'surfaces', title: 'Response surfaces', draw };

function draw(input: SurfacesInput, frame: Frame): Drawing {
  const { planes, x, y, theme } = { ...input, ...frame };
  const columns =
    frame.width >= 720 ? Math.min(3, planes.length) : frame.width >= 480 ? Math.min(2, planes.length) : 1;
  const ends = (levels: Float64Array): [number, number] => [levels[0]!, levels[levels.length - 1]!];
  const axes = planes.map(({ window: { lattice } }) => ({
    x: axis(measureText(x), 'linear', ends(lattice.x), { ticks: 4, grid: false }),
    y: axis(measureText(y), 'linear', ends(lattice.y), { ticks: 4, grid: false }),
  }));
  const layout = rowsOfPanels(axes, {
    columns,
    width: frame.width,
    each: Math.min(300, Math.max(210, (frame.width / columns) * 0.75)),
    gap: { x: 62, y: 104 },
    margin: { left: 48, right: 20, top: 54, bottom: 46 },
    hover: 'none',
  });
  const seating = new PanelSeating(layout);
  const data: LineTrace[] = [];
  const notes: Note[] = [];
  planes.forEach(({ name, window }, index) => {
    const drawn = drawPlane(window, index + 1, theme);
    data.push(...drawn);
    const panel = layout.panels[index]!;
    notes.push({
      text: name,
      x: panel.x.range[0],
      y: panel.y.range[1],
      axes: index + 1,
      align: 'left',
      baseline: 'bottom',
      shiftX: -36,
      shiftY: -26,
      color: theme.ink,
      size: 13,
      weight: 'bold',
    });
    for (const { level, lines } of window.contours) {
      const curve = {
        name: tickText(level),
        ...joined(lines, false),
        stroke: { color: theme.soft, width: 1 },
        axes: index + 1,
        sides: [0],
      };
      notes.push(...seating.along(curve, { size: 11, color: theme.ink, halo: theme.paper }));
    }
  });
  return { data, layout: { ...layout, notes }, caption: captionOf(input), table: tableOf(input) };
}

/** The window's own layers, lighter, on the axes of one panel. */
function drawPlane(window: OperatingWindow, axes: AxisPair, theme: Theme): LineTrace[] {
  const layers = [...bandsOf(window, theme), ...hatchOf(window, theme), ...outlineOf(window, theme, 2.2)];
  return layers.map((layer) => ({ ...layer, axes }));
}

function captionOf({ planes, quantity }: SurfacesInput): string {
  const some = planes.find(({ window }) => window.meeting.length > 0);
  const outline = some ? ` The heavy line holds what ${meetsWords(some.window).each}.` : '';
  const hatched = planes.some(({ window }) => window.choked.length > 0) ? ' Hatched: the mill chokes.' : '';
  return `${measureText(quantity)} over the two factors, in the same colours for every wheel, so that like colour is like product.${outline}${hatched}`;
}

function tableOf({ planes, quantity }: SurfacesInput): Drawing['table'] {
  const share = (window: OperatingWindow) => `${Math.round(window.share * 100)}`;
  const range = ({ bands }: OperatingWindow) =>
    bands.length === 0
      ? '–'
      : `${tickText(bands[0]!.from)} to ${tickText(bands.at(-1)!.to)}`
          .replace('-Infinity', 'less')
          .replace('Infinity', 'more');
  return {
    heads: ['wheel', `bands of ${measureText(quantity)}`, 'share of the plane that meets everything, %'],
    rows: planes.map(({ name, window }) => [name, range(window), share(window)]),
  };
}
