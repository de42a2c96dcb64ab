import { interpolate } from '../../numerics/interpolate.ts';
import { crossing } from '../../numerics/root.ts';
import type { Table } from '../../parameters.ts';
import type { EfficiencyLaw } from './efficiency-law.ts';

/**
 * The user's points of z = x/x_c and reduced efficiency T, monotone in ln z; T(1) = ½ is checked where they are read. The
 * curve has one sharpness of its own, so the shape parameter stretches ln z: κ as the points have it leaves them unchanged.
 */
export const table: EfficiencyLaw = {
  name: 'table',
  summary: 'the user’s points of size over cut and reduced efficiency',
  label: 'given',
  source: 'user’s points',
  parameters: [],
  table: {
    columns: [
      {
        name: 'ratio',
        symbol: 'z',
        unit: '1',
        shownIn: '1',
        meaning: 'size over cut size',
        exclusiveMinimum: 0,
      },
      {
        name: 'coarse',
        symbol: 'T',
        unit: '1',
        shownIn: '%',
        meaning: 'share returned to the rotor',
        minimum: 0,
        maximum: 1,
      },
    ],
    typical: [
      [0.25, 0.01],
      [0.7, 0.25],
      [1, 0.5],
      [1.3, 0.75],
      [2, 0.97],
      [4, 1],
    ],
  },
  sharpnessRange: [0.05, 0.98],
  shape: (sharpness, { points }) => Math.log(ownSharpness(points as Table)) / Math.log(sharpness),
  passing: (z, stretch, { points }) => 1 - interpolate(points as Table, z ** stretch),
};

/** κ of the points themselves, on the curve that joins them. */
function ownSharpness(points: Table): number {
  return ratioWhere(points, 0.25) / ratioWhere(points, 0.75);
}

/** z at which the curve through the points reaches a share. */
function ratioWhere(points: Table, share: number): number {
  const above = Math.max(
    1,
    points.findIndex(([, coarse]) => coarse >= share),
  );
  const [low, high] = [Math.log(points[above - 1]![0]), Math.log(points[above]![0])];
  return Math.exp(crossing((logZ) => interpolate(points, Math.exp(logZ)) - share, low, high));
}
