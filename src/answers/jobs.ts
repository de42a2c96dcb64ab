import type { Scenario } from '../scenario/scenario.ts';
import type { PlaneFields } from '../search/window/window.ts';
import { type Change, changedScenario } from './change.ts';
import type { LadderInput } from './feed-ladder.ts';
import { ladderView } from './feed-ladder.ts';
import { withBands } from './feed-ladder-bands.ts';
import { bandsView } from './limit-bands.ts';
import type { SpansInput } from './one-at-a-time.ts';
import { swayView } from './one-at-a-time.ts';
import { type PlaneAxis, planeView } from './plane.ts';
import { type PointView, pointView } from './point-view.ts';
import { type TurnsView, turnsView } from './setting-corrections.ts';

/** What a page has the model compute. */
export type Job =
  | { readonly kind: 'point'; readonly changes: readonly Change[] }
  | { readonly kind: 'ladder'; readonly changes: readonly Change[] }
  | { readonly kind: 'ladderBands'; readonly changes: readonly Change[]; readonly ladder: LadderInput }
  | { readonly kind: 'turns'; readonly changes: readonly Change[] }
  | { readonly kind: 'sway'; readonly changes: readonly Change[] }
  | {
      readonly kind: 'bands';
      readonly changes: readonly Change[];
      readonly x: PlaneAxis;
      readonly y: PlaneAxis;
    }
  | {
      readonly kind: 'plane';
      readonly changes: readonly Change[];
      readonly x: PlaneAxis;
      readonly y: PlaneAxis;
      readonly quantity: string;
    };

export interface Request {
  readonly id: number;
  readonly job: Job;
}

export type Answer = { readonly id: number } & (
  | { readonly kind: 'point'; readonly result: PointView }
  | { readonly kind: 'ladder'; readonly result: LadderInput }
  | { readonly kind: 'ladderBands'; readonly result: LadderInput }
  | { readonly kind: 'turns'; readonly result: TurnsView }
  | { readonly kind: 'sway'; readonly result: SpansInput }
  | { readonly kind: 'plane'; readonly result: PlaneFields }
  | { readonly kind: 'bands'; readonly result: ReturnType<typeof bandsView> }
  | { readonly kind: 'fault'; readonly result: string }
);

/** Does one job; the same in a worker, in a test and on the command line. */
export function work(scenario: Scenario, { id, job }: Request): Answer {
  const at = changedScenario(scenario, job.changes);
  switch (job.kind) {
    case 'point':
      return { id, kind: job.kind, result: pointView(at) };
    case 'ladder':
      return { id, kind: job.kind, result: ladderView(at) };
    case 'ladderBands':
      return { id, kind: job.kind, result: withBands(at, job.ladder) };
    case 'turns':
      return { id, kind: job.kind, result: turnsView(at) };
    case 'sway':
      return { id, kind: job.kind, result: swayView(at) };
    case 'bands':
      return { id, kind: job.kind, result: bandsView(at, job.x, job.y) };
    case 'plane':
      return { id, kind: job.kind, result: planeView(at, job.x, job.y, job.quantity) };
  }
}
