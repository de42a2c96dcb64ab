/** One fault of the user's input. */
export interface Fault {
  /** Where: a path in the file, an option, a file name; empty where the message says it. */
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
  if (fault.place === '') return printable(fault.message);
  const place = printable(fault.place).trim() || '(a name without letters)';
  return `${place}${line}: ${printable(fault.message)}`;
}

/** One line, without the control signs by which a typed text could move a terminal's cursor. */
function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is sought
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]+/g, ' ');
}
