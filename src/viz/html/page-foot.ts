/**
 * Style of a printed page's foot: words at its left, as the style sheet has the page number at its right.
 *
 * @param words of a user, any characters
 */
export function pageFoot(words: string): string {
  if (words === '') return '';
  return `@page{@bottom-left{content:"${inCss(words.slice(0, LONGEST))}";font:8pt system-ui,sans-serif}}`;
}

/** Longest foot: about half the width of a page. */
const LONGEST = 80;

/** Text within quotes of a style: everything but letters, digits and plain signs as its code. */
function inCss(text: string): string {
  return Array.from(text, (sign) =>
    /[\w .,:;()+-]/.test(sign) ? sign : `\\${sign.codePointAt(0)!.toString(16)} `,
  ).join('');
}
