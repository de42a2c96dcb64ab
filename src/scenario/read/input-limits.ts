/** Largest text read as a scenario [characters]. */
const LARGEST = 1_000_000;
const MOST_LINES = 20_000;
const LONGEST_LINE = 20_000;
const DEEPEST_INDENT = 120;
const DEEPEST_BRACKETS = 40;
const DEEPEST_DASHES = 20;

interface Refusal {
  readonly line?: number;
  readonly message: string;
}

/** Why a text is not to be read at all: too long, or not text. Checked before any parser sees it. */
export function unreadable(text: string): Refusal | undefined {
  if (text.length > LARGEST) {
    return { message: `must be at most ${LARGEST / 1e6} MB, has ${(text.length / 1e6).toFixed(1)} MB` };
  }
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    const blank = code === 9 || code === 10 || code === 13;
    if ((code < 32 && !blank) || code === 0xfffd) {
      const line = text.slice(0, i).split('\n').length;
      return { line, message: 'must be text in UTF-8, has bytes that are none' };
    }
  }
  return undefined;
}

/** Why a text is nested too deep: parsers recurse, so depth is bounded before they start. */
export function tooDeep(text: string): Refusal | undefined {
  const lines = text.split('\n');
  if (lines.length > MOST_LINES)
    return { message: `must have at most ${MOST_LINES} lines, has ${lines.length}` };
  let brackets = 0;
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!;
    const refuse = (message: string) => ({ line: i + 1, message });
    if (line.length > LONGEST_LINE) return refuse(`must have lines of at most ${LONGEST_LINE} characters`);
    brackets = Math.max(0, brackets + bracketsOpened(line));
    const indent = line.length - line.trimStart().length;
    const dashes = /^\s*((?:[-?:]\s+)*)/.exec(line)![1]!.length / 2;
    if (brackets > DEEPEST_BRACKETS || indent > DEEPEST_INDENT || dashes > DEEPEST_DASHES) {
      return refuse('is nested too deep to be a scenario');
    }
  }
  return undefined;
}

/** Highest number of brackets open at once within a line, or left open at its end if that is more. */
function bracketsOpened(line: string): number {
  let open = 0;
  let most = 0;
  for (const sign of line) {
    if (sign === '[' || sign === '{') most = Math.max(most, ++open);
    else if (sign === ']' || sign === '}') open--;
  }
  return most > DEEPEST_BRACKETS ? most : open;
}
