import { sizeAt } from '../../model/psd/curve.ts';
import type { FigureReference } from '../document.ts';
import { gatesOf } from '../spec-gates.ts';
import { inSigns } from '../words.ts';
import type { GradePoint } from './grade-point.ts';

const MICRO = 1e6;

/** The size curves of all grades on one scale, each with the points its own spec requires; nothing of grades that choke. */
export function gradeCurves(grades: readonly GradePoint[]): FigureReference[] {
  const curves = grades.flatMap(({ name, scenario, outcome, point }) =>
    point.status === 'steady' && outcome.status === 'steady'
      ? [{ name, curve: point.curve, gates: gatesOf(scenario.spec, outcome.spec) }]
      : [],
  );
  if (curves.length === 0) return [];
  const low = Math.min(...curves.map(({ curve }) => sizeAt(curve, 0.02)));
  const high = Math.max(
    ...curves.flatMap(({ curve, gates }) => [
      sizeAt(curve, 0.998),
      ...gates.map(({ size }) => (1.4 * size) / MICRO),
    ]),
  );
  const data = {
    x: { title: 'size, µm', scale: 'log', range: [low * MICRO, high * MICRO] },
    y: { title: 'finer, %', scale: 'linear', range: [0, 100] },
    lines: curves.map(({ name, curve }, k) => ({
      name,
      x: Array.from(curve.edges, (edge) => edge * MICRO),
      y: Array.from(curve.undersize, (share) => 100 * share),
      standing: k === 0 ? 'now' : k === 1 ? 'before' : k,
    })),
    limits: [],
    marks: curves.flatMap(({ gates }) =>
      gates.map(({ size, share, words, met }) => ({
        x: size,
        y: 100 * share,
        words: `${inSigns(words)}${met ? '' : ': missed'}`,
      })),
    ),
    caption: 'The product of each grade at its settings; marked are the points its own spec requires.',
  };
  return [{ id: 'grade-curves', title: 'Size curves of the grades', figure: 'lines', data }];
}
