import type { DeskRequest, DeskStart } from '../desk/jobs.ts';
import { DeskWork } from '../desk/work.ts';

let work: DeskWork | undefined;

/** The first message is the catalogue and the program's version; every later one a job. */
self.onmessage = ({ data }: MessageEvent<DeskStart | DeskRequest>) => {
  if ('shelf' in data) {
    work = new DeskWork(data);
    return;
  }
  const { id, job } = data;
  try {
    self.postMessage({
      id,
      kind: job.kind,
      result: work!.do(data, (share) => self.postMessage({ id, kind: 'progress', result: share })),
    });
  } catch (error) {
    self.postMessage({ id, kind: 'fault', result: error instanceof Error ? error.message : String(error) });
  }
};
