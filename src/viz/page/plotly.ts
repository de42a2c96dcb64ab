import type { Axis, Drawing, Note, Panel } from '../drawing.ts';
import { FACES, TICK_SIZE, TITLE_SIZE, titleDrop } from '../svg/write.ts';
import type { Theme } from '../theme.ts';
import { plotText } from './plot-text.ts';
import { type Plain, reference, ruleSpec, traceSpec } from './plotly-traces.ts';

/** A drawing as the plotting library takes it. */
export interface PlotlySpec {
  readonly data: Plain[];
  readonly layout: Plain;
}

export const PLOTLY_CONFIG = {
  displayModeBar: false,
  displaylogo: false,
  responsive: false,
  doubleClick: false,
} as const;

/** Drawing → plot, with the same places, sizes and colours as the SVG writer gives it. */
export function plotlySpec(drawing: Drawing, theme: Theme): PlotlySpec {
  const { layout, data } = drawing;
  const { width, height, margin } = layout;
  const axes: Plain = {};
  layout.panels.forEach((panel, index) => {
    const n = index === 0 ? '' : String(index + 1);
    axes[`xaxis${n}`] = axisSpec(panel.x, [panel.left, panel.right], `y${n}`, theme, 'x');
    axes[`yaxis${n}`] = axisSpec(panel.y, [panel.bottom, panel.top], `x${n}`, theme, 'y');
  });
  return {
    data: [...data.map((trace) => traceSpec(trace)), ...layout.rules.map(ruleSpec)],
    layout: {
      width,
      height,
      margin: { l: margin.left, r: margin.right, t: margin.top, b: margin.bottom, pad: 0 },
      paper_bgcolor: 'rgba(0,0,0,0)',
      plot_bgcolor: 'rgba(0,0,0,0)',
      font: { family: FACES, color: theme.soft, size: TICK_SIZE },
      showlegend: false,
      barmode: 'overlay',
      dragmode: false,
      hovermode: layout.hover === 'none' ? false : 'closest',
      hoverlabel: { bgcolor: theme.paper, bordercolor: theme.soft, font: { color: theme.ink, size: 12.5 } },
      annotations: [
        ...layout.panels.flatMap((panel, index) => titleSpecs(panel, index, theme)),
        ...layout.notes.map((note) => noteSpec(note, layout.panels[note.axes - 1]!)),
      ],
      ...axes,
    },
  };
}

function axisSpec(
  axis: Axis,
  domain: readonly number[],
  anchor: string,
  theme: Theme,
  side: 'x' | 'y',
): Plain {
  const log = axis.scale === 'log';
  return {
    type: axis.scale,
    range: log ? axis.range.map(Math.log10) : axis.range,
    domain,
    anchor,
    tickmode: 'array',
    tickvals: axis.ticks.map(({ at }) => at),
    ticktext: axis.ticks.map(({ text }) => text.split('\n').map(plotText).join('<br>')),
    tickfont: { size: TICK_SIZE, color: theme.soft },
    tickangle: 0,
    ticks: side === 'x' ? 'outside' : '',
    ticklen: side === 'x' ? 4 : 0,
    ticklabelstandoff: side === 'y' ? 7 : 0,
    tickcolor: theme.soft,
    showgrid: axis.grid,
    gridcolor: theme.grid,
    gridwidth: 1,
    griddash: 'solid',
    zeroline: false,
    showline: side === 'x',
    linecolor: theme.soft,
    fixedrange: true,
    automargin: false,
    ticklabeloverflow: 'allow',
    layer: 'below traces',
  };
}

/** Axis titles stand level: x at the right below, y at the left above. */
function titleSpecs({ x, y }: Panel, index: number, theme: Theme): Plain[] {
  const n = index === 0 ? '' : String(index + 1);
  const common = { showarrow: false, font: { size: TITLE_SIZE, color: theme.ink } };
  const titles: Plain[] = [];
  if (x.title) {
    titles.push({
      ...common,
      text: plotText(x.title),
      xref: `x${n} domain`,
      yref: `y${n} domain`,
      x: 1,
      y: 0,
      xanchor: 'right',
      yanchor: 'top',
      yshift: -22 - 1.1 * titleDrop(x),
    });
  }
  if (y.title) {
    titles.push({
      ...common,
      text: plotText(y.title),
      xref: `x${n} domain`,
      yref: `y${n} domain`,
      x: 0,
      y: 1,
      xanchor: 'left',
      yanchor: 'bottom',
      xshift: -35,
      yshift: 5,
    });
  }
  return titles;
}

function noteSpec(note: Note, panel: Panel): Plain {
  const halo = note.halo;
  const shadow = halo
    ? [
        [1, 1],
        [-1, 1],
        [1, -1],
        [-1, -1],
      ]
        .map(([x, y]) => `${x}px ${y}px 2px ${halo}`)
        .join(',')
    : 'none';
  return {
    text: note.text.split('\n').map(plotText).join('<br>'),
    showarrow: false,
    xref: reference('x', note.axes),
    yref: reference('y', note.axes),
    x: panel.x.scale === 'log' ? Math.log10(note.x) : note.x,
    y: panel.y.scale === 'log' ? Math.log10(note.y) : note.y,
    xanchor: note.align,
    yanchor: note.baseline,
    xshift: note.shiftX ?? 0,
    yshift: -(note.shiftY ?? 0),
    textangle: note.angle ?? 0,
    align: note.align,
    borderpad: 0,
    font: { color: note.color, size: note.size, weight: note.weight === 'bold' ? 600 : 400, shadow },
  };
}
