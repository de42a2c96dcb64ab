import { ladderView } from '../../../answers/feed-ladder.ts';
import { buildChamber, classesPerOctave } from '../../../model/loop/prepared-materials.ts';
import { circulationCurve } from '../../../model/loop/solve.ts';
import { runInTime, type TimeSeries } from '../../../model/time/run.ts';
import { toCase } from '../../../scenario/operating-point.ts';
import { solvePoint } from '../../../scenario/outcome/solved.ts';
import { formatNumber } from '../../../scenario/units/display.ts';
import { fromZero } from '../../figures/lines.ts';
import { set } from '../mill.ts';
import type { Lesson, LessonStep, StepFigure, StepKey } from '../step.ts';

const POINTS = 60;
/** [s] */
const DURATION = 90;
const STEP = 0.05;
const EVERY = 10;

/** What comes round against what went round [kg/h], up to the load at which the machine is said to be full. */
function around({ fold }: Lesson, feed: number) {
  const c = toCase(set(fold, { feed }));
  const point = solvePoint(c);
  const top = c.loop.chokeLoad * point.state.conditions.airMassFlow;
  const flows = Array.from({ length: POINTS }, (_, i) => ((i + 1) / POINTS) * top);
  return {
    x: flows.map((each) => each * 3600),
    y: circulationCurve(c, flows).map((each) => each * 3600),
    runsAt: point.status === 'steady' ? point.state.circulating * 3600 : undefined,
    feedAtChoke: point.state.feedAtChoke * 3600,
  };
}

function inTime({ fold }: Lesson, feed: number): TimeSeries {
  const c = toCase(set(fold, { feed }));
  const { grid } = buildChamber(c.components, c.loop.smallestSize, classesPerOctave(c));
  const plan = { duration: DURATION, step: STEP, sampleLag: 0, every: EVERY, grid };
  return runInTime(c, { ...plan, feedRate: () => feed / 3600 });
}

function crossing({ x, y, runsAt }: ReturnType<typeof around>): StepFigure {
  const top = x.at(-1)!;
  return {
    figure: 'lines',
    input: {
      x: { title: 'went round, kg/h', scale: 'linear', range: [0, top] },
      y: { title: 'comes round, kg/h', scale: 'linear', range: [0, top * 1.1] },
      lines: [
        { name: 'as much as went', x: [0, top], y: [0, top], standing: 'before' },
        { name: 'comes round', x, y, standing: 'now' },
      ],
      limits: [],
      marks: runsAt === undefined ? [] : [{ x: runsAt, y: runsAt, words: 'runs here' }],
      caption:
        runsAt === undefined
          ? 'The curve lies above the diagonal everywhere: more comes round than went, the mill fills.'
          : 'Where the curve meets the diagonal as much comes round as went: there the mill runs.',
    },
  };
}

function filling({ time, holdup, chokedAt }: TimeSeries): StepFigure {
  const line = { name: 'solids in the mill', x: time, y: holdup, standing: 'now' as const };
  return {
    figure: 'lines',
    input: {
      x: { title: 'time, s', scale: 'linear', range: [0, DURATION] },
      y: { title: 'solids in the mill, kg', scale: 'linear', range: fromZero([line]) },
      lines: [line],
      limits: [],
      marks: [],
      caption: Number.isNaN(chokedAt)
        ? `From empty, over ${DURATION} s it does not fill to the load at which this machine is taken to be full.`
        : `From empty it passes the load at which this machine is taken to be full after ${formatNumber(chokedAt, 2)} s.`,
    },
  };
}

export const tooMuch: LessonStep = {
  id: 'too-much',
  title: 'Ask too much',
  say: [
    'The more solids a wheel carries, the more fine grains it wrongly sends back; on this wheel strongly. Raise the feed: the curve of what comes round lifts off the diagonal, the crossing slides away and is gone.',
    'Below, the same mill in time, from empty.',
  ],
  question:
    'Just past the last feed that runs: does the mill fill at once, or does it look well for a while?',
  sliders: [{ id: 'feed', name: 'feed rate', unit: 'kg/h', min: 150, max: 320, step: 1, value: 240 }],
  show: (lesson, { feed }) => {
    const now = around(lesson, feed!);
    const stands =
      now.runsAt === undefined ? 'chokes' : `runs, ${formatNumber(now.runsAt / feed!, 3)} passes`;
    return {
      figures: [crossing(now), filling(inTime(lesson, feed!))],
      facts: [
        ['chokes from about', `${formatNumber(now.feedAtChoke, 3)} kg/h`],
        ['at this feed', stands],
      ],
    };
  },
};

export const tooMuchKey: StepKey = {
  answer: (lesson) => {
    const { feedAtChoke } = around(lesson, 240);
    const over = Math.ceil(feedAtChoke * 1.02);
    const { chokedAt } = inTime(lesson, over);
    const after = Number.isNaN(chokedAt)
      ? `it is still not full after ${DURATION} s`
      : `it is full only after ${formatNumber(chokedAt, 2)} s`;
    const { limit } = ladderView(lesson.scenario);
    const demo = limit
      ? ` The demo mill of the other steps meets another limit first: ${limit.words}, at ${formatNumber(limit.feed, 3)} kg/h.`
      : '';
    return `It looks well for a while. It chokes from about ${formatNumber(feedAtChoke, 3)} kg/h; at ${over} kg/h, where curve and diagonal nearly touch, it lingers and ${after}. Motor load that creeps up at constant feed is the warning: cut the feed.${demo}`;
  },
  notes:
    'Two minutes. This step uses the demo mill at 1400 m³/h, rotor 5000 rpm, medium radial wheel at 2400 rpm, and a wheel whose bypass grows fifteen times faster with load, because the demo mill as it stands meets another limit first. Say so.',
};
