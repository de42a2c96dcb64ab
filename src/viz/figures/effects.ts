import { measureText } from '../../answers/measure.ts';
import type { Effect, EffectsInput } from '../../answers/what-matters.ts';
import type { Drawing, Figure, Frame, LineTrace } from '../drawing.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { rowsOfPanels } from './panels.ts';

/** What each factor does on the average of the sweep. */
export const effectsFigure: Figure<EffectsInput> = { name: 'effects', title: 'Main effects', draw };

function draw({ measure, effects }: EffectsInput, frame: Frame): Drawing {
  const { theme } = frame;
  const columns = frame.width >= 720 ? Math.min(4, effects.length) : frame.width >= 460 ? 2 : 1;
  const range = spanOf(
    effects.flatMap(({ means, lower, upper }) => [...means, ...lower, ...upper]),
    { air: 0.06 },
  );
  const axes = effects.map((effect) => ({
    x: levelAxis(effect),
    y: axis(measureText(measure), 'linear', range, { ticks: 4 }),
  }));
  const layout = rowsOfPanels(axes, {
    columns,
    width: frame.width,
    each: 170,
    gap: { x: 58, y: 98 },
    margin: { left: 48, right: 20, top: 34, bottom: 60 },
    hover: 'point',
  });
  const data = effects.flatMap((effect, index): LineTrace[] => {
    const x = effect.levels.map((level, i) => (typeof level === 'number' ? level : i));
    const back = [...x].reverse();
    const line = { x, y: effect.means, axes: index + 1 };
    const readout = effect.levels.map(
      (level, i) =>
        `${measure.name} ${short(effect.means[i]!)} ${measure.unit} on average at ${typeof level === 'number' ? short(level) : level}`,
    );
    return [
      {
        kind: 'line',
        name: 'bounds',
        x: [...x, ...back],
        y: [...effect.upper, ...[...effect.lower].reverse()],
        axes: index + 1,
        fill: 'self',
        fillColor: theme.band,
        readout: 'none',
      },
      {
        kind: 'line',
        name: 'mean',
        ...line,
        stroke: { color: theme.series[1]!, width: 2.2 },
        readout: 'none',
      },
      {
        kind: 'line',
        name: 'mean',
        ...line,
        marker: { symbol: 'circle', size: 6, color: theme.series[1]! },
        readout,
      },
    ];
  });
  return {
    data,
    layout,
    caption: `${measureText(measure)}, mean over all points that run, at each level of one factor; grey, its 95 % bounds. The steeper the line, the more that factor moves it.`,
    table: {
      heads: ['factor', 'level', `mean ${measureText(measure)}`],
      rows: effects.flatMap(({ factor, levels, means }) =>
        levels.map((level, i) => [
          measureText(factor),
          typeof level === 'number' ? short(level) : level,
          short(means[i]!),
        ]),
      ),
    },
  };
}

function levelAxis({ factor, levels }: Effect) {
  const title = measureText(factor);
  if (levels.every((level) => typeof level === 'number')) {
    return axis(title, 'linear', [levels[0] as number, levels.at(-1) as number], { ticks: 3, grid: false });
  }
  const ticks = levels.map((level, at) => ({
    at,
    text: String(level)
      .split(' ')
      .slice(0, 2)
      .map((word) => word.slice(0, 9))
      .join('\n'),
  }));
  const shown = ticks.length > 4 ? ticks.map(({ at }) => ({ at, text: String(at + 1) })) : ticks;
  return {
    title,
    scale: 'linear' as const,
    range: [-0.4, levels.length - 0.6] as const,
    ticks: shown,
    grid: false,
  };
}

function short(value: number): string {
  return Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : '–';
}
