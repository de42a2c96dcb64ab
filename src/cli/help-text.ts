import { COMMANDS } from './commands.ts';

/** Widest line of a help text. */
export const WIDEST = 110;

const OPTIONS: readonly (readonly [string, string])[] = [
  ['-h, --help', 'show help; grindloop COMMAND --help shows what a command takes'],
  ['-V, --version', 'show the version of the program'],
  ['--debug', 'show the stack trace of a fault'],
];

/** Help of the program as a whole: every command with what it does. The parser of options is not loaded for it. */
export function helpText(columns: number): string {
  const commands = COMMANDS.map(({ usage, summary }) => [`grindloop ${usage}`, summary] as const);
  const lines = ['grindloop <command>', '', 'Commands:', ...listed(commands, columns)];
  return `${[...lines, '', 'Options:', ...listed(OPTIONS, columns)].join('\n')}\n`;
}

/** Two columns, the second broken at blanks to fit. */
function listed(rows: readonly (readonly [string, string])[], columns: number): string[] {
  const first = Math.max(...rows.map(([name]) => name.length)) + 4;
  const room = Math.max(20, Math.min(columns, WIDEST) - first);
  return rows.flatMap(([name, text]) =>
    broken(text, room).map((line, i) => (i === 0 ? `  ${name}`.padEnd(first) : ' '.repeat(first)) + line),
  );
}

function broken(text: string, room: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= room)
      lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}
