/**
 * What a terminal would obey instead of showing: control characters but for the end of a line and the tab, and the marks
 * that turn the direction of writing.
 */
const OBEYED = /[^\P{Cc}\n\t]|[\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

/**
 * A text with such characters written out, as `\u001b`: a title or a name that somebody chose cannot move the cursor or hide
 * a line. Within JSON the same six characters mean the character itself, so that nothing is lost there.
 *
 * @example shownText('a\u001b[31m') // 'a\\u001b[31m'
 */
export function shownText(text: string): string {
  return text.replace(OBEYED, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** The same on one line: the end of a line is written out too. */
export function onOneLine(text: string): string {
  return shownText(text).replaceAll('\n', '\\n').replaceAll('\t', '\\t');
}

/** Makes a stream show every text written to it. */
export function showOnly(stream: Pick<NodeJS.WriteStream, 'write'>): void {
  const write = stream.write.bind(stream) as (chunk: unknown, ...rest: unknown[]) => boolean;
  stream.write = ((chunk: unknown, ...rest: unknown[]) =>
    write(typeof chunk === 'string' ? shownText(chunk) : chunk, ...rest)) as typeof stream.write;
}
