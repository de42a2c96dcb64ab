import { buildCurve, sizeAt } from '../../../model/psd/curve.ts';
import { quantityNamed } from '../../../scenario/outcome/quantities.ts';
import { fromZero } from '../../figures/lines.ts';
import { type Batch, passByPass } from '../batch.ts';
import { run, said, text } from '../mill.ts';
import type { Lesson, LessonStep, StepFigure, StepKey } from '../step.ts';

/** Passes of the slider. */
export const PASSES = 60;
const SIZES = { title: 'size, µm', scale: 'log', range: [1, 1200] } as const;

const batchOf = ({ scenario }: Lesson) => passByPass(scenario, PASSES)!;
const sum = (values: Float64Array) => values.reduce((all, each) => all + each, 0);

/** Value at a size [µm] between the classes, linear in the logarithm of size. */
export function between(sizes: Float64Array, values: Float64Array, size: number): number {
  const above = sizes.findIndex((each) => each >= size);
  if (above <= 0) return values[above === 0 ? 0 : values.length - 1]!;
  const part = Math.log(size / sizes[above - 1]!) / Math.log(sizes[above]! / sizes[above - 1]!);
  return values[above - 1]! + part * (values[above]! - values[above - 1]!);
}

/** Size below which 95 % of what has left lies [µm], interpolated as the product's x95 is. */
export function topEdge({ edges, left }: Batch, pass: number): number {
  const whole = sum(left[pass]!);
  const undersize = new Float64Array(edges.length);
  left[pass]!.forEach((each, i) => {
    undersize[i + 1] = undersize[i]! + each / whole;
  });
  return 1e6 * sizeAt(buildCurve(edges, undersize), 0.95);
}

function pile(batch: Batch, pass: number, followed: number): StepFigure {
  const { sizes, left, kept } = batch;
  const octaves = Math.log2(sizes[1]! / sizes[0]!);
  const dense = (values: Float64Array) => values.map((each) => (100 * each) / octaves);
  const lines = [
    { name: 'left so far', x: sizes, y: dense(left[pass]!), standing: 'now' as const, filled: true },
    { name: 'still inside', x: sizes, y: dense(kept[pass]!), standing: 1 },
  ];
  const range = fromZero([...lines, { y: dense(left[PASSES]!) }]);
  const edge = pass > 0 ? `; 95 % of that lies below ${text(topEdge(batch, pass))} µm` : '';
  return {
    figure: 'lines',
    input: {
      x: SIZES,
      y: { title: '% of the batch per octave of size', scale: 'linear', range },
      lines,
      limits: [{ axis: 'x', at: followed, words: 'followed' }],
      marks: [],
      caption: `After ${pass} passes ${text(100 * sum(left[pass]!))} % of the batch has left${edge}.`,
    },
  };
}

function fate({ sizes, chance }: Batch, size: number): StepFigure {
  const y = chance.map((each) => 100 * each);
  const here = between(sizes, y, size);
  return {
    figure: 'lines',
    input: {
      x: SIZES,
      y: { title: 'probability, %', scale: 'linear', range: [0, 100] },
      lines: [{ name: 'leaves before it is broken', x: sizes, y, standing: 'now' }],
      limits: [],
      marks: [{ x: size, y: here, words: `${text(here, 2)} %` }],
      caption:
        'The fate of each size: fine particles leave unbroken, coarse ones are broken first. Where it falls, the product ends.',
    },
  };
}

export const sendBack: LessonStep = {
  id: 'send-back',
  title: 'Send back the coarse',
  say: () => [
    'The wheel lets the fine out and sends the coarse back. Follow one batch: each pass, everything still inside meets the rotor, then the wheel.',
    'Step through the passes. Then choose one size and read its fate.',
  ],
  question: () => 'The pile of product grows with every pass. Does its top edge move?',
  sliders: () => [
    { id: 'pass', name: 'passes', unit: '', min: 0, max: PASSES, step: 1, value: 4 },
    { id: 'size', name: 'size to follow', unit: 'µm', min: 10, max: 500, step: 1, value: 60, ratio: true },
  ],
  show: (lesson, { pass, size }) => {
    const batch = batchOf(lesson);
    const at = Math.round(pass!);
    return {
      figures: [pile(batch, at, size!), fate(batch, size!)],
      facts: [
        ['left so far', `${text(100 * sum(batch.left[at]!))} %`],
        ['95 % of it lies below', at > 0 ? `${text(topEdge(batch, at))} µm` : '–'],
        [
          `probability that ${text(size!)} µm leaves before it is broken`,
          `${text(100 * between(batch.sizes, batch.chance, size!))} %`,
        ],
        [
          'its visits to the wheel until it leaves or breaks',
          text(between(batch.sizes, batch.visits, size!)),
        ],
      ],
    };
  },
};

export const sendBackKey: StepKey = {
  answer: (lesson) => {
    const batch = batchOf(lesson);
    const solved = run(lesson.scenario)!;
    const edge = (pass: number) => text(topEdge(batch, pass));
    const own = text(1e6 * quantityNamed('x95')!.of(solved));
    return `It moves a little, then stands still. 95 % of what has left lies below ${edge(3)} µm after 3 passes, ${edge(10)} µm after 10 and ${edge(PASSES)} µm after ${PASSES}: it closes in on the x95 of the running mill, ${own} µm, from below and never passes it. The wheel decides what leaves; passes only decide when. In the run the mill makes ${said(solved, 'passes')} passes on average.`;
  },
  notes:
    'Three minutes, the heart of the lesson. To check by hand: a class with leaving D, breakage K and a share b of fragments that stay in it takes 1/(D + K(1 − b)) visits on average. Common error: that more passes make it finer.',
};
