import type { Answer, Job, Request } from '../../answers/jobs.ts';

/** Talks to the model in its worker; of jobs that wait, only the newest of each kind is sent. */
export class ModelClient {
  private readonly worker: Worker;
  private readonly waiting = new Map<
    string,
    {
      readonly request: Request;
      readonly done: (result: never) => void;
      readonly failed: (error: Error) => void;
    }
  >();
  private running:
    | { readonly id: number; readonly done: (result: never) => void; readonly failed: (error: Error) => void }
    | undefined;
  private count = 0;

  /**
   * @param script text of the worker
   * @param scenario as `plainJson` writes it
   */
  constructor(script: string, scenario: string) {
    const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
    this.worker = new Worker(url);
    URL.revokeObjectURL(url);
    this.worker.onmessage = ({ data }: MessageEvent<Answer>) => this.answered(data);
    this.worker.postMessage({ scenario });
  }

  /** Asks for a job; a newer one of the same kind and slot takes its place while it waits, and it then never settles. */
  ask<J extends Job>(
    job: J,
    slot: string = job.kind,
  ): Promise<Extract<Answer, { kind: J['kind'] }>['result']> {
    return new Promise((done, failed) => {
      this.waiting.delete(slot);
      this.waiting.set(slot, {
        request: { id: ++this.count, job },
        done: done as (result: never) => void,
        failed,
      });
      this.next();
    });
  }

  private next(): void {
    if (this.running) return;
    const first = this.waiting.entries().next();
    if (first.done) return;
    const [slot, { request, done, failed }] = first.value;
    this.waiting.delete(slot);
    this.running = { id: request.id, done, failed };
    this.worker.postMessage(request);
  }

  private answered(answer: Answer): void {
    const { running } = this;
    this.running = undefined;
    if (running && running.id === answer.id) {
      if (answer.kind === 'fault') running.failed(new Error(answer.result));
      else running.done(answer.result as never);
    }
    this.next();
  }
}
