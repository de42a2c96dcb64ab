/** A number and the unit after it. */
const QUANTITY =
  /(?<=\d) (?=(?:[%‰K°]|[nµm]?m|k?g|t|s|h|min|rpm|Hz|°C|kWh?|k?Pa|kg\/h|kg\/m³|kWh\/t|m³\/h|m\/s|m²\/kg)(?![\p{L}\p{N}]))|(?<=±) (?=\d)/gu;

/** Longest name a figure shows. */
const LONGEST = 36;

/** Marks that turn the direction of what follows, and signs of no width that hide in a name; joiners of scripts stay. */
const HIDDEN = /\p{Bidi_Control}|[\u200b\u2060\ufeff]/gu;

/** Free of the last digits a conversion leaves. */
export function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
/**
 * A user's name as a figure can take it: one line, cut to length, and its writing direction kept to itself.
 *
 * @example label('medium-leaning') // 'medium leaning'
 */
export function label(name: string, longest: number = LONGEST): string {
  const oneLine = plainLine(name).replace(/(?<=\p{L})-(?=\p{L})/gu, ' ');
  const cut = oneLine.length > longest ? `${oneLine.slice(0, longest - 1)}…` : oneLine;
  return /^[\p{Script=Latin}\p{Script=Greek}\p{Script=Common}]*$/u.test(cut) ? cut : `\u2068${cut}\u2069`;
}

/** A user's words as running text: one line, at most some length. */
export function words(text: string, longest: number): string {
  const line = plainLine(text);
  return line.length > longest ? `${line.slice(0, longest - 1)}…` : line;
}

/** First letter large, to begin a sentence; a symbol such as x50 stays as it is. */
export function sentence(text: string): string {
  if (/^[xd]\d/.test(text)) return text;
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** First letter small, to go on after a colon; a symbol or an abbreviation stays as it is. */
export function continued(text: string): string {
  return /^\p{Lu}\p{Ll}/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** Text in which no number is parted from its unit at the end of a line. */
export function together(text: string): string {
  return text.replace(QUANTITY, '\u00a0');
}

/** Text on one line, without signs that hide or turn. */
function plainLine(text: string): string {
  return text.replace(HIDDEN, '').replace(/\s+/g, ' ').trim();
}
