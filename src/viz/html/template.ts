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

/** Text in which a symbol's index stands low: `χ_c` → χ<sub>c</sub>. */
export function lowered(text: string): Html {
  const set = text.split(/(?<=(?<![\p{L}\p{N}])\p{L})_([\p{L}\p{N}]{1,4})(?![\p{L}\p{N}_])/u);
  return new Html(
    set.map((part, i) => (i % 2 ? `<sub>${escapeText(part)}</sub>` : escapeText(part))).join(''),
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
