import { formatNumber } from '../../../scenario/units/display.ts';
import { fromZero } from '../../figures/lines.ts';
import { type Batch, passByPass } from '../batch.ts';
import { run, said } from '../mill.ts';
import type { Lesson, LessonStep, StepFigure, StepKey } from '../step.ts';

const PASSES = 60;
const SIZES = { title: 'size, µm', scale: 'log', range: [1, 1200] } as const;

const batchOf = ({ scenario }: Lesson) => passByPass(scenario, PASSES)!;
const sum = (values: Float64Array) => values.reduce((all, each) => all + each, 0);

/** Place of the class nearest a size [µm]. */
function classAt(sizes: Float64Array, size: number): number {
  const off = (i: number) => Math.abs(Math.log(sizes[i]! / size));
  return sizes.reduce((best, _, i) => (off(i) < off(best) ? i : best), 0);
}

function pile({ sizes, left, kept }: Batch, pass: number, followed: number): StepFigure {
  const octaves = Math.log2(sizes[1]! / sizes[0]!);
  const dense = (values: Float64Array) => values.map((each) => (100 * each) / octaves);
  const lines = [
    { name: 'left so far', x: sizes, y: dense(left[pass]!), standing: 'now' as const, filled: true },
    { name: 'still inside', x: sizes, y: dense(kept[pass]!), standing: 1 },
  ];
  const range = fromZero([...lines, { y: dense(left[PASSES]!) }]);
  return {
    figure: 'lines',
    input: {
      x: SIZES,
      y: { title: '% of the batch per octave of size', scale: 'linear', range },
      lines,
      limits: [{ axis: 'x', at: followed, words: 'followed' }],
      marks: [],
      caption: `After ${pass} passes ${formatNumber(100 * sum(left[pass]!), 3)} % of the batch has left.`,
    },
  };
}

function fate({ sizes, chance }: Batch, k: number): StepFigure {
  const y = chance.map((each) => 100 * each);
  return {
    figure: 'lines',
    input: {
      x: SIZES,
      y: { title: 'chance, %', scale: 'linear', range: [0, 100] },
      lines: [{ name: 'leaves before it is broken', x: sizes, y, standing: 'now' }],
      limits: [],
      marks: [{ x: sizes[k]!, y: y[k]!, words: `${formatNumber(y[k]!, 2)} %` }],
      caption:
        'The fate of each size: fine grains leave unbroken, coarse ones are broken first. Where it falls, the product ends.',
    },
  };
}

export const sendBack: LessonStep = {
  id: 'send-back',
  title: 'Send back the coarse',
  say: [
    'The wheel lets the fine out and sends the coarse back. Follow one batch: each pass, everything still inside meets the rotor, then the wheel.',
    'Step through the passes. Then choose one size and read its fate.',
  ],
  question: 'The pile of product grows with every pass. Does its top edge move?',
  sliders: [
    { id: 'pass', name: 'passes', unit: '', min: 0, max: PASSES, step: 1, value: 4 },
    { id: 'size', name: 'size to follow', unit: 'µm', min: 10, max: 500, step: 1, value: 60, ratio: true },
  ],
  show: (lesson, { pass, size }) => {
    const batch = batchOf(lesson);
    const k = classAt(batch.sizes, size!);
    const at = formatNumber(batch.sizes[k]!, 2);
    return {
      figures: [pile(batch, Math.round(pass!), batch.sizes[k]!), fate(batch, k)],
      facts: [
        ['left so far', `${formatNumber(100 * sum(batch.left[Math.round(pass!)]!), 3)} %`],
        [`chance of ${at} µm to leave before it is broken`, `${formatNumber(100 * batch.chance[k]!, 3)} %`],
        ['its visits to the wheel until it leaves or breaks', formatNumber(batch.visits[k]!, 3)],
      ],
    };
  },
};

export const sendBackKey: StepKey = {
  answer: (lesson) => {
    const batch = batchOf(lesson);
    const edge = (pass: number) => {
      const left = batch.left[pass]!;
      let running = 0;
      const i = left.findIndex((each) => {
        running += each;
        return running >= 0.95 * sum(left);
      });
      return formatNumber(batch.sizes[i]!, 2);
    };
    return `Hardly. 95 % of what has left lies below about ${edge(3)} µm after 3 passes, ${edge(10)} µm after 10 and ${edge(PASSES)} µm after ${PASSES}. The wheel decides who leaves; passes only decide when. In the run the mill makes ${said(run(lesson.scenario)!, 'passes')} passes on average.`;
  },
  notes:
    'Three minutes, the heart of the lesson. To check by hand: a class with leaving D, breakage K and a share b of fragments that stay in it takes 1/(D + K(1 − b)) visits on average. Common error: that more passes make it finer.',
};
