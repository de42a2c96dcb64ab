import type { BarTrace, LineTrace, Rule, SurfaceTrace, Trace } from '../drawing.ts';
import { plotText } from './plot-text.ts';

/** What the plotting library takes. */
export type Plain = Record<string, unknown>;

/** `x`, `y2`: an axis as the plotting library names it. */
export function reference(letter: 'x' | 'y', axes: number | undefined): string {
  return axes === undefined || axes === 1 ? letter : `${letter}${axes}`;
}

/** A trace as the plotting library takes it. */
export function traceSpec(trace: Trace): Plain {
  switch (trace.kind) {
    case 'line':
      return lineSpec(trace);
    case 'bar':
      return barSpec(trace);
    case 'surface':
      return surfaceSpec(trace);
  }
}

function lineSpec(trace: LineTrace): Plain {
  const { stroke, marker, fill, fillColor, hatch, readout } = trace;
  const modes = [...(stroke ? ['lines'] : []), ...(marker ? ['markers'] : [])];
  const silent = readout === 'none' || readout === undefined;
  return {
    type: 'scatter',
    mode: modes.length > 0 ? modes.join('+') : 'none',
    x: trace.x,
    y: trace.y,
    xaxis: reference('x', trace.axes),
    yaxis: reference('y', trace.axes),
    connectgaps: false,
    ...(stroke
      ? { line: { color: stroke.color, width: stroke.width, dash: dashOf(stroke.dash), simplify: false } }
      : { line: { width: 0 } }),
    ...(marker
      ? {
          marker: {
            symbol: marker.symbol,
            size: marker.size,
            color: marker.color,
            opacity: 1,
            line: { color: marker.line?.color ?? marker.color, width: marker.line?.width ?? 0 },
          },
        }
      : {}),
    ...(fill ? { fill: fill === 'self' ? 'toself' : 'tozeroy' } : {}),
    ...(fill && fillColor ? { fillcolor: fillColor } : {}),
    ...(fill && hatch
      ? {
          fillcolor: hatch.color,
          fillpattern: {
            shape: '/',
            fgcolor: hatch.color,
            bgcolor: hatch.background,
            size: 7,
            solidity: 0.18,
          },
        }
      : {}),
    ...errorSpec(trace),
    ...(silent
      ? { hoverinfo: 'skip' }
      : { text: readout.map(plotText), hovertemplate: '%{text}<extra></extra>', hoveron: 'points' }),
  };
}

function errorSpec({ errorX, errorY, marker }: LineTrace): Plain {
  const spec = (array: ArrayLike<number>) => ({
    type: 'data',
    array,
    thickness: 1,
    width: 0,
    color: marker?.color,
  });
  return { ...(errorX ? { error_x: spec(errorX) } : {}), ...(errorY ? { error_y: spec(errorY) } : {}) };
}

function barSpec({ y, from, to, thickness, axes, color, hatch }: BarTrace): Plain {
  return {
    type: 'bar',
    orientation: 'h',
    y,
    base: from,
    x: to.map((end, i) => end - from[i]!),
    width: thickness,
    xaxis: reference('x', axes),
    yaxis: reference('y', axes),
    hoverinfo: 'skip',
    marker: {
      color,
      line: { width: 0 },
      ...(hatch
        ? {
            pattern: { shape: '/', fgcolor: hatch.color, bgcolor: hatch.background, size: 6, solidity: 0.25 },
          }
        : {}),
    },
  };
}

/** A surface as the plotting library takes it. */
export function surfaceSpec({ x, y, z, colors, range }: SurfaceTrace): Plain {
  const last = colors.length - 1;
  return {
    type: 'surface',
    x,
    y,
    z,
    cmin: range[0],
    cmax: range[1],
    showscale: false,
    colorscale: colors.map((color, i) => [i / last, color]),
  };
}

/** A rule as a trace of two points. */
export function ruleSpec({ axes, from, to, stroke }: Rule): Plain {
  return lineSpec({
    kind: 'line',
    name: '',
    x: [from[0], to[0]],
    y: [from[1], to[1]],
    axes,
    stroke,
    readout: 'none',
  });
}

function dashOf(dash: string | undefined): string {
  return dash
    ? dash
        .split(',')
        .map((each) => `${each}px`)
        .join(',')
    : 'solid';
}
