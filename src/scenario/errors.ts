/** One fault of the user's input. */
export interface Fault {
  /** Where: a path in the file, an option, a file name. */
  readonly place: string;
  readonly line?: number;
  /** What must hold, what was found, and what to do, in one sentence. */
  readonly message: string;
}

/** Bad input: every fault at once, one line each. */
export class InputError extends Error {
  readonly faults: readonly Fault[];

  constructor(faults: readonly Fault[]) {
    super(faults.map(describeFault).join('\n'));
    this.name = 'InputError';
    this.faults = faults;
  }
}

/** `machine.rotor.geometry.gap (line 12): must be > 0 mm, is -2 mm`. */
export function describeFault(fault: Fault): string {
  const line = fault.line === undefined ? '' : ` (line ${fault.line})`;
  return `${fault.place}${line}: ${fault.message}`;
}
