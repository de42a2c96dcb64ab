import type { Column, Evaluate } from '../../../src/sweep/study/column.ts';

/** A stand-in for the mill: as many columns, and as long a computation, as a test wants. */
export interface ToyJob {
  readonly quantities: number;
  /** Turns of a loop a point takes. */
  readonly work: number;
  /** A point that throws. */
  readonly broken?: number;
}

export function toyColumns(job: ToyJob): Column[] {
  const column = { unit: '1', symbol: '', meaning: '' };
  return [
    { ...column, name: 'u', role: 'factor', of: 'u' },
    { ...column, name: 'status', role: 'status', of: 'status', unit: '', names: ['steady', 'choked'] },
    ...Array.from({ length: job.quantities }, (_, k) => ({
      ...column,
      name: `q${k}`,
      role: 'quantity' as const,
      of: `q${k}`,
    })),
  ];
}

/** Every seventh point is choked. */
export function toyEvaluate(job: ToyJob): Evaluate {
  return ({ first, count }) => {
    const values = new Float64Array(count * (job.quantities + 2));
    for (let r = 0; r < count; r++) {
      const i = first + r;
      if (i === job.broken) throw new Error(`point ${i} is broken`);
      let x = (i * 0.6180339887) % 1;
      values[r] = x;
      for (let k = 0; k < job.work; k++) x = 3.9 * x * (1 - x);
      const choked = i % 7 === 3;
      values[count + r] = choked ? 1 : 0;
      for (let k = 0; k < job.quantities; k++) {
        values[(k + 2) * count + r] = choked ? Number.NaN : x / (k + 1);
      }
    }
    return { first, count, values };
  };
}
