import { words } from '../../answers/text.ts';
import { escapeJson, escapeText } from '../escape.ts';
import { DARK, LIGHT, properties } from '../theme.ts';
import type { Html } from './template.ts';

const LONGEST_TITLE = 160;

/** A page that stands alone. */
export interface DocumentParts {
  readonly title: string;
  readonly body: Html;
  readonly style: string;
  /** JSON read by the scripts, by element id. */
  readonly data: Readonly<Record<string, string>>;
  /** Text kept for the scripts but not run by the page, by element id: the worker's own script. */
  readonly texts: Readonly<Record<string, string>>;
  /** Scripts run in order. */
  readonly scripts: readonly string[];
  /** Scripts the page starts later, deflated, by element id. */
  readonly packed?: Readonly<Record<string, string>>;
}

/** What a document needs that each place does its own way. */
interface DocumentMeans {
  /** SHA-256 of a text in base64. */
  readonly hash: (text: string) => string;
  /** Text deflated, in base64. */
  readonly deflate: (text: string) => string;
}

/**
 * One HTML file that opens from disk: styles, data and scripts inside, and a policy that lets it load nothing, send
 * nothing and run no script but its own.
 */
export function htmlDocument(
  { title, body, style, data, texts, scripts, packed = {} }: DocumentParts,
  { hash, deflate }: DocumentMeans,
): string {
  const own = scripts.map(inlineScript);
  const hashes = [...own, ...Object.values(packed)].map((script) => `'sha256-${hash(script)}'`);
  const policy = [
    "default-src 'none'",
    `script-src ${hashes.length > 0 ? hashes.join(' ') : "'none'"}`,
    "connect-src 'none'",
    // the model's worker is started from text that stands in the page
    'worker-src blob:',
    // drawings carry style attributes, which no hash can name; styles run nothing
    "style-src 'unsafe-inline'",
    'img-src data: blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const parts = [
    '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">\n`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n',
    '<meta name="color-scheme" content="light dark">\n',
    // else a browser asks the server for one
    '<link rel="icon" href="data:,">\n',
    `<title>${escapeText(words(title, LONGEST_TITLE))}</title>\n`,
    `<style>${themeStyle()}${style}</style>\n</head>\n<body>\n`,
    body.text,
    ...Object.entries(data).map(
      ([id, value]) =>
        `\n<script type="application/json" id="${escapeText(id)}">${escapeJson(value)}</script>`,
    ),
    ...Object.entries(texts).map(
      ([id, text]) => `\n<script type="text/plain" id="${escapeText(id)}">${inlineScript(text)}</script>`,
    ),
    ...Object.entries(packed).map(
      ([id, text]) => `\n<script type="text/plain" id="${escapeText(id)}">${deflate(text)}</script>`,
    ),
    ...own.map((script) => `\n<script>${script}</script>`),
    '\n</body>\n</html>\n',
  ];
  return parts.join('');
}

/** A script as it may stand inside its element: nothing in it ends or opens another. */
export function inlineScript(script: string): string {
  return script.split('\r\n').join('\n').split('</script').join('<\\/script').split('<!--').join('\\x3C!--');
}

/** Colours of the pages, light and dark; every page's style begins with them. */
export function themeStyle(): string {
  const block = (theme: typeof LIGHT) =>
    properties(theme)
      .map(([name, value]) => `${name}:${value}`)
      .join(';');
  return `:root{${block(LIGHT)}}@media screen and (prefers-color-scheme:dark){:root{${block(DARK)}}}`;
}
