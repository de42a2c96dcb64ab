import { escapeText } from '../escape.ts';

/** HTML that is safe to put into a page as it is; only `html` and `trusted` make it. */
export class Html {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

type Part = Html | string | number | undefined | false | readonly Part[];

/**
 * HTML from a template; every value put in is escaped unless it is HTML already. Lists are joined, `undefined` and
 * `false` leave nothing.
 *
 * @example html`<b>${'<i>'}</b>`.text // '<b>&lt;i&gt;</b>'
 */
export function html(literals: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return new Html(
    literals.reduce((text, literal, i) => text + literal + (i < parts.length ? written(parts[i]) : ''), ''),
  );
}

/** HTML made by the program itself from nothing a user wrote, such as a drawing. */
export function trusted(text: string): Html {
  return new Html(text);
}

function written(part: Part): string {
  if (part === undefined || part === false) return '';
  if (part instanceof Html) return part.text;
  if (Array.isArray(part)) return part.map(written).join('');
  return escapeText(String(part));
}
