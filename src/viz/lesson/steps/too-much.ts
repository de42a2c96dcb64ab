import { ladderView } from '../../../answers/feed-ladder.ts';
import type { Case } from '../../../model/case.ts';
import { classesPerOctave } from '../../../model/loop/grid-needed.ts';
import { buildChamber } from '../../../model/loop/prepared-materials.ts';
import { circulationCurve } from '../../../model/loop/solve.ts';
import { bracket } from '../../../model/numerics/root.ts';
import { runInTime, type TimeSeries } from '../../../model/time/run-in-time.ts';
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

/**
 * What returns against what circulates [kg/h], up to the load at which the machine is taken to be full, with the two
 * crossings of the diagonal: where it runs, and where it tips.
 */
export function around({ fold }: Lesson, feed: number) {
  const c = toCase(set(fold, { feed }));
  const point = solvePoint(c);
  const top = c.loop.chokeLoad * point.state.conditions.airMassFlow;
  const flows = Array.from({ length: POINTS }, (_, i) => ((i + 1) / POINTS) * top);
  const returned = circulationCurve(c, flows);
  const runsAt = point.status === 'steady' ? point.state.circulating : undefined;
  const tipsAt = runsAt === undefined ? undefined : crossingAbove(c, runsAt, flows, returned);
  return {
    x: flows.map((each) => each * 3600),
    y: returned.map((each) => each * 3600),
    runsAt: runsAt === undefined ? undefined : runsAt * 3600,
    tipsAt: tipsAt === undefined ? undefined : tipsAt * 3600,
    feedAtChoke: point.state.feedAtChoke * 3600,
  };
}

/** Where the curve rises through the diagonal above the running point [kg/s]; undefined where it does not. */
function crossingAbove(c: Case, runsAt: number, flows: number[], returned: number[]): number | undefined {
  const k = flows.findIndex((flow, i) => flow > runsAt && returned[i]! > flow);
  if (k < 0) return undefined;
  const high = flows[k]!;
  let low = Math.max(runsAt, flows[k - 1] ?? runsAt);
  if (low === runsAt) low += 1e-6 * (high - low);
  return bracket((flow) => circulationCurve(c, [flow])[0]! <= flow, low, high, { steps: 30 }).fails;
}

/** A flow in three digits. */
const flow = (value: number) => `${Number(value.toPrecision(3))} kg/h`;

function inTime({ fold }: Lesson, feed: number): TimeSeries {
  const c = toCase(set(fold, { feed }));
  const { grid } = buildChamber(c.components, c.loop.smallestSize, classesPerOctave(c));
  const plan = { duration: DURATION, step: STEP, sampleLag: 0, every: EVERY, grid };
  return runInTime(c, { ...plan, feedRate: () => feed / 3600 });
}

function crossing({ x, y, runsAt, tipsAt }: ReturnType<typeof around>): StepFigure {
  const top = x.at(-1)!;
  const tipping =
    tipsAt === undefined
      ? ' Within the load at which this machine is taken to be full it does not cross again.'
      : ' Where it crosses again is the tipping point: below it the mill falls back to where it runs, above it more returns than circulates and the mill fills.';
  return {
    figure: 'lines',
    input: {
      x: { title: 'circulates, kg/h', scale: 'linear', range: [0, top] },
      y: { title: 'returns, kg/h', scale: 'linear', range: [0, top * 1.1] },
      lines: [
        { name: 'as much as circulates', x: [0, top], y: [0, top], standing: 'before' },
        { name: 'returns', x, y, standing: 'now' },
      ],
      limits: [],
      marks: [
        ...(runsAt === undefined ? [] : [{ x: runsAt, y: runsAt, words: 'runs here' }]),
        ...(tipsAt === undefined ? [] : [{ x: tipsAt, y: tipsAt, words: 'tips here' }]),
      ],
      caption:
        runsAt === undefined
          ? 'The curve lies above the diagonal everywhere: more returns than circulates, the mill fills.'
          : `Where the curve first meets the diagonal as much returns as circulates: there the mill runs.${tipping}`,
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
        ? `Over ${DURATION} s from empty the mill does not fill up.`
        : `From empty it is full, by the load this machine is taken to hold, after ${formatNumber(chokedAt, 2)} s.`,
    },
  };
}

export const tooMuch: LessonStep = {
  id: 'too-much',
  title: 'Feed too much',
  say: () => [
    'The more solids a wheel carries, the more fine particles it wrongly sends back; on this wheel strongly. Raise the feed: the curve of what returns lifts off the diagonal, the two crossings move together and are gone.',
    'Next to it, the same mill in time, from empty. This step uses the invented demo mill, set so that it really chokes.',
  ],
  question: () =>
    'Just past the last feed that runs: does the mill fill at once, or does it look well for a while?',
  sliders: () => [{ id: 'feed', name: 'feed rate', unit: 'kg/h', min: 150, max: 320, step: 1, value: 240 }],
  show: (lesson, { feed }) => {
    const now = around(lesson, feed!);
    const stands =
      now.runsAt === undefined ? 'chokes' : `runs, ${formatNumber(now.runsAt / feed!, 3)} passes`;
    return {
      figures: [crossing(now), filling(inTime(lesson, feed!))],
      facts: [
        ['chokes from about', `${formatNumber(now.feedAtChoke, 3)} kg/h`],
        ['at this feed', stands],
        ...(now.runsAt === undefined
          ? []
          : ([
              [
                'tips when this much circulates',
                now.tipsAt === undefined ? 'beyond the full mill' : flow(now.tipsAt),
              ],
            ] as const)),
      ],
    };
  },
};

export const tooMuchKey: StepKey = {
  answer: (lesson) => {
    const { feedAtChoke, runsAt, tipsAt } = around(lesson, 240);
    const tip =
      runsAt === undefined || tipsAt === undefined
        ? ''
        : ` At 240 kg/h it runs with ${flow(runsAt)} circulating and tips at ${flow(tipsAt)}: a surge beyond that fills it, although the feed is one that runs.`;
    const over = Math.ceil(feedAtChoke * 1.02);
    const { chokedAt } = inTime(lesson, over);
    const after = Number.isNaN(chokedAt)
      ? `it is still not full after ${DURATION} s`
      : `it is full only after ${formatNumber(chokedAt, 2)} s`;
    const { limit } = ladderView(lesson.scenario);
    const demo = limit
      ? ` The mill of the other steps meets another limit first: ${limit.words}, at ${formatNumber(limit.feed, 3)} kg/h.`
      : '';
    return `It looks well for a while. It chokes from about ${formatNumber(feedAtChoke, 3)} kg/h; at ${over} kg/h, where curve and diagonal nearly touch, it lingers, and ${after}. Motor load that creeps up at constant feed is the warning: cut the feed.${tip}${demo}`;
  },
  notes:
    'Two minutes. This step uses the demo mill at 1400 m³/h, rotor 5000 rpm, medium radial wheel at 2400 rpm, and a wheel whose bypass grows fifteen times faster with load, because the demo mill as it stands meets another limit first. Say so.',
};
