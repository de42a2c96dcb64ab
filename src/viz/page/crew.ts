import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import type { DeskJob, DeskKind, DeskRequest, DeskResults, DeskStart } from '../desk/jobs.ts';
import { Lane } from './lane.ts';
import { workerStart } from './worker-start.ts';

/** Which of the desk's workers does what: the point never waits behind a plane or a fit. */
type LaneName = 'point' | 'plane 1' | 'plane 2' | 'rest' | 'long' | 'trials';

/** The desk's workers; each is started when its first job comes. */
export class Crew {
  private readonly lanes = new Map<LaneName, Lane>();
  private readonly start: () => Worker;
  private count = 0;

  /**
   * @param script text of a worker
   * @param start catalogue and version handed to each
   */
  constructor(script: string, start: DeskStart) {
    this.start = workerStart(script, start);
  }

  /** Asks for a job about a case; of jobs that wait in a slot only the newest is sent, the others never end. */
  ask<J extends DeskJob>(
    lane: LaneName,
    about: CaseFiles,
    job: J,
    slot: string = job.kind,
    progress?: (share: number) => void,
  ): Promise<DeskResults[J['kind']]> {
    const request: DeskRequest = { id: ++this.count, about, job };
    return this.laneOf(lane).ask(slot, request, progress) as Promise<DeskResults[J['kind']]>;
  }

  /** Gives up jobs, waiting or begun. */
  giveUp(lane: LaneName, ...slots: readonly (DeskKind | string)[]): void {
    for (const slot of slots) this.lanes.get(lane)?.giveUp(slot);
  }

  private laneOf(name: LaneName): Lane {
    const known = this.lanes.get(name);
    if (known) return known;
    const lane = new Lane(this.start);
    this.lanes.set(name, lane);
    return lane;
  }
}
