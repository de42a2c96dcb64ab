import { formatNumber as n } from '../../scenario/units/display.ts';
import { type GradeFit, type GradePoint, gradeAt } from '../../trials/grade/efficiency.ts';
import type { Split } from '../../trials/grade/split.ts';
import { type AnswerDocument, type AnswerTable, columns, type Section } from '../document.ts';
import type { GradeLine } from '../point-view.ts';

const MICRO = 1e6;
const percent = (share: number, digits = 3) => `${n(100 * share, digits)} %`;

/** How a wheel sorted, from three measured curves. */
export interface Graded {
  readonly split: Split;
  readonly points: readonly GradePoint[];
  readonly fit: GradeFit;
  /** Cut from the fines yield and the feed curve alone [m]. */
  readonly estimate: number;
  /** Entry of the wheel in a scenario, ready to be copied. */
  readonly entry: string;
}

/** Cut, sharpness and bypass of a wheel from its measured feed, fines and coarse, as an entry for a scenario. */
export function gradeDocument(graded: Graded, title: string): AnswerDocument {
  const { fit, entry } = graded;
  return {
    command: 'grade',
    found: fit.atBound.length === 0,
    title,
    answer: gradeSentences(graded),
    sections: [
      curveSection(graded),
      { id: 'entry', heading: 'Entry of the wheel for a scenario', listing: entry },
    ],
    notes: fit.leakage > 0 ? [] : ['These curves show no leakage: it stays at its default.'],
    cautions: [],
    keys: gradeKeys(graded),
  };
}

/** What three curves say of a wheel; the first sentence is the answer. */
export function gradeSentences({ split, fit, estimate }: Graded): string[] {
  const { closure } = split;
  const yieldText = split.given
    ? `${percent(split.finesYield)} (weighed)`
    : `${percent(split.finesYield)}${plusMinus(split.yieldError, percent(split.yieldError, 2))} (from the curves)`;
  const closes = split.closes
    ? 'The three curves close'
    : 'The three curves do NOT close, so treat the result as a sketch';
  const leakage =
    fit.leakage > 0
      ? `, leakage ${percent(fit.leakage)}${plusMinus(fit.errors.leakage, percent(fit.errors.leakage, 2))}`
      : '';
  return [
    `The cut is ${n(fit.cutSize * MICRO, 3)} µm${plusMinus(fit.errors.logCut, percent(fit.errors.logCut, 2))}, sharpness ${n(fit.sharpness, 3)}${plusMinus(fit.errors.sharpness, n(fit.errors.sharpness, 2))}, bypass ${percent(fit.bypass)}${plusMinus(fit.errors.bypass, percent(fit.errors.bypass, 2))}${leakage}.`,
    ...(fit.atBound.length > 0
      ? [
          `${fit.atBound.join(' and ')} ended at the end of the range that is searched, so there is no entry: check the three files and the law.`,
        ]
      : []),
    `${closes}: the largest gap is ${percent(Math.abs(closure.largest))} at ${n(closure.at * MICRO, 3)} µm, ${percent(closure.rms)} on average (root mean square).`,
    `The fines yield is ${yieldText}.`,
    `The ${fit.law} law misses the points by ${percent(fit.misfit)} on average (root mean square); the cut from the fines yield and the feed curve alone is ${n(estimate * MICRO, 3)} µm.`,
  ];
}

function curveSection({ points, fit }: Graded): Section {
  const look = { cut: fit.cutSize * MICRO, sharpness: fit.sharpness, bypass: fit.bypass };
  const lines: GradeLine[] = [
    {
      ...look,
      name: 'measured',
      sizes: points.map(({ size }) => size * MICRO),
      toCoarse: points.map(({ toCoarse }) => toCoarse),
    },
    {
      ...look,
      name: fit.law,
      sizes: SIZES.map((z) => z * look.cut),
      toCoarse: SIZES.map((z) => gradeAt(fit, z * fit.cutSize)),
    },
  ];
  return {
    id: 'curve',
    heading: 'Grade efficiency',
    figures: [
      {
        id: 'grade',
        title: 'Share to the coarse, measured and fitted',
        figure: 'grade-efficiency',
        data: { lines, caption: CAPTION },
      },
    ],
    tables: [pointsTable(points)],
  };
}

const CAPTION =
  'Share of each size that reports to the coarse: the points joined are measured, the dashed line is the law fitted to them.';

/** Sizes at which the fitted law is drawn, over the cut. */
const SIZES = Array.from({ length: 61 }, (_, i) => 0.05 * 100 ** (i / 60));

function pointsTable(points: readonly GradePoint[]): AnswerTable {
  return {
    columns: columns('size, µm', 'to coarse, %', 'of the feed, %'),
    rows: points.map(({ size, toCoarse, weight }) => [
      n(size * MICRO, 3),
      n(100 * toCoarse, 3),
      n(100 * weight, 3),
    ]),
  };
}

function gradeKeys({ split, points, fit, estimate, entry }: Graded) {
  return {
    cutSize_um: fit.cutSize * MICRO,
    sharpness: fit.sharpness,
    bypass: fit.bypass,
    leakage: fit.leakage,
    atBound: fit.atBound,
    law: fit.law,
    standardErrors: {
      cutSize_um: fit.cutSize * fit.errors.logCut * MICRO,
      sharpness: fit.errors.sharpness,
      bypass: fit.errors.bypass,
      leakage: fit.errors.leakage,
    },
    misfit: fit.misfit,
    finesYield: split.finesYield,
    yieldError: split.yieldError,
    closure: {
      largest: split.closure.largest,
      at_um: split.closure.at * MICRO,
      rms: split.closure.rms,
      closes: split.closes,
    },
    cutFromSplit_um: estimate * MICRO,
    points: points.map(({ size, toCoarse, weight }) => ({ size_um: size * MICRO, toCoarse, weight })),
    wheelEntry: entry,
  };
}

/** ` ± 0.02`, or nothing where there is no error: curves that do not close have none. */
function plusMinus(error: number, shown: string): string {
  return Number.isFinite(error) ? ` ± ${shown}` : '';
}
