import type { GradePlane, GradePlanesInput, GradeRegion } from '../../answers/grades/grade-planes.ts';
import { listed } from '../../answers/join-words.ts';
import { measureText } from '../../answers/measure.ts';
import { CHOKE, RIM } from '../../answers/sweep-window.ts';
import type { AxisPair, Drawing, Figure, Frame, Layout, LineTrace, Note, Stroke } from '../drawing.ts';
import type { Theme } from '../theme.ts';
import { axis } from '../ticks.ts';
import { PanelSeating } from './curves.ts';
import { rowsOfPanels } from './panels.ts';
import { hatchOf, joined } from './window-layers.ts';

/** The operating windows of several grades on one plane, or on one plane each where their other settings differ. */
export const gradePlanesFigure: Figure<GradePlanesInput> = {
  name: 'grade-planes',
  title: 'Operating windows of the grades',
  draw,
};

/** Outlines told apart without colour; the first is drawn through. */
const DASHES = [undefined, '9,4', '2.5,3', '11,3,2.5,3', '5,5'];
const SHAPES = ['circle', 'square', 'diamond', 'triangle-up', 'star'] as const;

function draw(input: GradePlanesInput, frame: Frame): Drawing {
  const { planes, x, y } = input;
  const { theme, width } = frame;
  const columns = planes.length > 1 && width >= 700 ? 2 : 1;
  const each = Math.round(Math.min(440, Math.max(260, ((width - 80) / columns) * 0.72)));
  const layout = rowsOfPanels(
    planes.map((plane) => ({
      x: axis(measureText(x), 'linear', plane.x, { ticks: columns > 1 || width < 520 ? 4 : 7, grid: false }),
      y: axis(measureText(y), 'linear', plane.y, { ticks: 5, grid: false }),
    })),
    {
      columns,
      width,
      each,
      gap: { x: 66, y: 108 },
      margin: {
        left: width < 520 ? 46 : 56,
        right: 18,
        top: planes.some(({ at }) => at) ? 58 : 36,
        bottom: 46,
      },
      hover: 'none',
    },
  );
  const seating = new PanelSeating(layout);
  const data: LineTrace[] = [];
  const notes: Note[] = [];
  planes.forEach((plane, index) => {
    const axes = index + 1;
    data.push(...layersOf(plane, axes, theme));
    if (plane.at) notes.push(headOf(plane, axes, layout, theme));
    notes.push(...namesOf(input, plane, axes, seating, theme));
  });
  return { data, layout: { ...layout, notes }, caption: captionOf(input), table: tableOf(input) };
}

function strokeOf(index: number, theme: Theme): Stroke {
  const dash = DASHES[index % DASHES.length];
  const color = theme.series[index % theme.series.length]!;
  return { color, width: 2.4, ...(dash ? { dash } : {}) };
}

/** Every region tinted, so that an overlap is darker; its outline in its own dashes. */
function layersOf({ regions, choked, marks }: GradePlane, axes: AxisPair, theme: Theme): LineTrace[] {
  const tints = regions.map(
    ({ grade, meeting }): LineTrace => ({
      kind: 'line',
      name: `${grade} region`,
      ...joined(meeting, true),
      fill: 'self',
      fillColor: theme.band,
      readout: 'none',
    }),
  );
  const outlines = regions.map(
    ({ grade, meeting }, index): LineTrace => ({
      kind: 'line',
      name: grade,
      ...joined(meeting, true),
      stroke: strokeOf(index, theme),
      readout: 'none',
    }),
  );
  const chosen = marks.map(({ grade, x, y }): LineTrace => {
    const index = regions.findIndex((region) => region.grade === grade);
    return {
      kind: 'line',
      name: `${grade} run first`,
      x: [x],
      y: [y],
      marker: {
        symbol: SHAPES[index % SHAPES.length]!,
        size: 11,
        color: theme.series[index % theme.series.length]!,
        line: { color: theme.paper, width: 2 },
      },
      readout: 'none',
    };
  });
  const hatched = hatchOf({ choked }, theme, { color: theme.soft, width: 1.2 });
  return [...tints, ...hatched, ...outlines, ...chosen]
    .filter(({ x }) => x.length > 0)
    .map((layer) => ({ ...layer, axes }));
}

function headOf({ at }: GradePlane, axes: AxisPair, layout: Layout, theme: Theme): Note {
  const panel = layout.panels[axes - 1]!;
  return {
    text: at,
    x: panel.x.range[0],
    y: panel.y.range[1],
    axes,
    align: 'left',
    baseline: 'bottom',
    shiftX: -36,
    shiftY: -28,
    color: theme.ink,
    size: 13,
    weight: 'bold',
  };
}

/** The name of each grade along the edge that is its own, and beside its mark. */
function namesOf(
  input: GradePlanesInput,
  { regions, marks }: GradePlane,
  axes: AxisPair,
  seating: PanelSeating,
  theme: Theme,
): Note[] {
  for (const { x, y } of marks) seating.keepFree(axes, x, y, 9);
  const beside = marks.flatMap(({ grade, x, y }) => {
    const index = regions.findIndex((region) => region.grade === grade);
    const color = theme.series[index % theme.series.length]!;
    const words = {
      text: `${grade}: run first`,
      axes,
      size: 12,
      color,
      weight: 'bold',
      halo: theme.paper,
    } as const;
    return seating.beside(x, y, words);
  });
  const along = regions.flatMap((region, index) => {
    const edge = namedEdge(input, region);
    if (edge.length === 0) return [];
    const stroke = strokeOf(index, theme);
    const curve = { name: region.grade, ...joined(edge, false), stroke, axes, sides: [-11, 12] };
    return seating.along(curve, { size: 12.5, color: stroke.color, weight: 'bold', halo: theme.paper });
  });
  return [...beside, ...along];
}

/** The part of a region's edge that names it: where a requirement of its own limits it, else any limit, else the rim. */
function namedEdge({ shared }: GradePlanesInput, { edge }: GradeRegion): GradeRegion['edge'] {
  const own = edge.filter(({ limit }) => limit !== RIM && limit !== CHOKE && !shared.includes(limit));
  if (own.length > 0) return own;
  const limited = edge.filter(({ limit }) => limit !== RIM);
  return limited.length > 0 ? limited : edge;
}

function captionOf({ planes, x, y }: GradePlanesInput): string {
  const nowhere = (planes[0]?.regions ?? [])
    .map(({ grade }) => grade)
    .filter((grade) =>
      planes.every(({ regions }) => regions.find((region) => region.grade === grade)!.meeting.length === 0),
    );
  const missed = nowhere.length > 0 ? ` Not met anywhere here: ${listed(nowhere)}.` : '';
  const several =
    planes.length > 1
      ? ` One plane for each set of the other settings: every grade is drawn on each, with the grade that is run there marked.`
      : '';
  const hatched = planes.some(({ choked }) => choked.length > 0) ? ' Hatched: the mill chokes.' : '';
  return `Inside its outline, every ${x.name} and ${y.name} meets the whole spec of that grade; where outlines overlap, one setting serves both, and the tint is darker.${missed}${several}${hatched}`;
}

function tableOf({ planes, words }: GradePlanesInput): Drawing['table'] {
  const named = (limit: string) => (limit === CHOKE ? 'choking' : (words[limit] ?? limit));
  const percent = (share: number) => `${Math.round(share * 1000) / 10}`;
  const rows = planes.flatMap(({ at, regions, overlaps }) => [
    ...regions.map(({ grade, share, edge }) => {
      const limits = [...new Set(edge.map(({ limit }) => limit))].filter((limit) => limit !== RIM);
      return [
        at || 'as swept',
        grade,
        percent(share),
        listed(limits.map(named)) || (share > 0 ? 'no limit' : 'not met'),
      ];
    }),
    ...overlaps.map(({ grades, share }) => [at || 'as swept', grades.join(' + '), percent(share), '']),
  ]);
  return { heads: ['plane at', 'grade', 'share of the plane, %', 'limited by'], rows };
}
