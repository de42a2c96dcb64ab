import type { Answer, Job, Request } from '../../answers/jobs.ts';
import { Lane } from './lane.ts';
import { workerStart } from './worker-start.ts';

type Kind = Job['kind'];

/** Which worker does what: the pinned point never waits behind a plane or a band. */
const LANES: readonly (readonly Kind[])[] = [
  ['point'],
  ['plane', 'bands'],
  ['ladder', 'sway', 'turns', 'ladderBands'],
];

/** Talks to the model in its workers; of jobs that wait, only the newest of each slot is sent. */
export class ModelClient {
  private readonly lanes = new Map<Kind, Lane>();
  private count = 0;

  /**
   * @param script text of a worker
   * @param scenario as `plainJson` writes it
   */
  constructor(script: string, scenario: string) {
    const start = workerStart(script, { scenario });
    for (const kinds of LANES) {
      const lane = new Lane(start);
      for (const kind of kinds) this.lanes.set(kind, lane);
    }
  }

  /**
   * Asks for a job; one asked later for the same slot takes its place while it waits, and the first then never ends.
   */
  ask<J extends Job>(
    job: J,
    slot: string = job.kind,
  ): Promise<Extract<Answer, { kind: J['kind'] }>['result']> {
    const request: Request = { id: ++this.count, job };
    return this.lanes.get(job.kind)!.ask(slot, request) as Promise<never>;
  }

  /** Gives up jobs of these kinds, waiting or begun: their settings are no longer those of the page. */
  giveUp(...kinds: readonly Kind[]): void {
    for (const kind of kinds) this.lanes.get(kind)!.giveUp(kind);
  }
}
