/** What is sent to a worker, told apart by its number. */
interface Request {
  readonly id: number;
}

/** What comes back; a fault carries its words. */
interface Answer {
  readonly id: number;
  readonly kind: string;
  readonly result: unknown;
}

interface Asked {
  readonly slot: string;
  readonly request: Request;
  readonly progress: ((share: number) => void) | undefined;
  readonly done: (result: unknown) => void;
  readonly failed: (error: Error) => void;
}

/** One worker and the jobs that wait for it. */
export class Lane {
  private readonly start: () => Worker;
  private readonly waiting = new Map<string, Asked>();
  private worker: Worker | undefined;
  private running: Asked | undefined;

  /** @param start makes a worker; called when the first job comes, and after one was given up */
  constructor(start: () => Worker) {
    this.start = start;
  }

  /** @param progress told the share done, where the job tells it */
  ask(slot: string, request: Request, progress?: (share: number) => void): Promise<unknown> {
    return new Promise((done, failed) => {
      this.waiting.delete(slot);
      this.waiting.set(slot, { slot, request, progress, done, failed });
      this.next();
    });
  }

  /** Forgets what waits in a slot; what runs there is stopped with its worker. */
  giveUp(slot: string): void {
    this.waiting.delete(slot);
    if (this.running?.slot !== slot) return;
    this.worker!.terminate();
    this.worker = undefined;
    this.running = undefined;
    this.next();
  }

  private next(): void {
    if (this.running) return;
    const first = this.waiting.values().next();
    if (first.done) return;
    const asked = first.value;
    this.waiting.delete(asked.slot);
    this.running = asked;
    if (!this.worker) {
      this.worker = this.start();
      this.worker.onmessage = ({ data }: MessageEvent<Answer>) => this.answered(data);
    }
    this.worker.postMessage(asked.request);
  }

  private answered(answer: Answer): void {
    const { running } = this;
    if (!running || running.request.id !== answer.id) return;
    if (answer.kind === 'progress') {
      running.progress?.(Number(answer.result));
      return;
    }
    this.running = undefined;
    if (answer.kind === 'fault') running.failed(new Error(String(answer.result)));
    else running.done(answer.result);
    this.next();
  }
}
