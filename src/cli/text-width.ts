/**
 * Columns a text takes in a terminal, one a letter: in place of the parser's own measure where the program is bundled. Help
 * texts have neither emoji nor wide scripts, and making ready to count those took a tenth of a second's processor time on
 * every command.
 */
export default function textWidth(text: string): number {
  let width = 0;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a terminal's colours take no column
  for (const letter of text.replace(/\u001b\[[0-9;]*m/g, '')) if (!/\p{M}/u.test(letter)) width++;
  return width;
}
