import type { Node } from './node.ts';
import { type Context, fault } from './reading-context.ts';

/** A picture as it may stand in a page: `data:image/png;base64,…`. */
type LogoUri = string;

/** Largest picture taken [bytes]. */
const LARGEST_LOGO = 300_000;

/** Kinds of picture, by what their files begin with and must hold. */
const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const JPEG = [0xff, 0xd8, 0xff];

/** What a drawing may not hold: whatever runs, and whatever is fetched from elsewhere. */
const FORBIDDEN: readonly (readonly [pattern: RegExp, what: string])[] = [
  [/<\s*(\w+:)?script/i, 'a script'],
  [/\son\w+\s*=/i, 'an event handler (on… =)'],
  [/javascript\s*:/i, 'a script in a link'],
  [/<\s*(\w+:)?(foreignObject|iframe|embed|object|audio|video)\b/i, 'a page or a player within it'],
  [/<!\s*(DOCTYPE|ENTITY)/i, 'a document type or entities'],
  [/@import|url\(\s*['"]?\s*(?!['"]?#)[^)]/i, 'a style from another file'],
  [/href\s*=\s*['"]?\s*(?!['"]?(#|data:image\/(png|jpeg);))[^'"\s>]/i, 'a link to another file'],
];

/**
 * The picture `job.logo` names, embedded: PNG, JPEG or SVG without scripts, at most 300 kB. The kind is that of its content,
 * whatever the file is called.
 *
 * @returns undefined where there is none or it has a fault, which is then among the context's
 */
export function readLogo(
  context: Context,
  node: Node | undefined,
  file: string | undefined,
): LogoUri | undefined {
  if (!node || file === undefined) return undefined;
  const say = (message: string) => {
    fault(context, node, 'job.logo', `${file.slice(0, 80)} ${message}`);
    return undefined;
  };
  let bytes: Uint8Array;
  try {
    bytes = context.readBytes(file, node.origin.kind === 'file' ? node.origin.name : undefined);
  } catch (error) {
    return say(`cannot be read: ${(error as Error).message}`);
  }
  if (bytes.length > LARGEST_LOGO)
    return say(
      `has ${Math.ceil(bytes.length / 1000)} kB; a logo may have ${LARGEST_LOGO / 1000} kB at most, so save it smaller`,
    );
  const found = kindOf(bytes);
  return 'kind' in found ? `data:image/${found.kind};base64,${inBase64(bytes)}` : say(found.message);
}

type Found = { readonly kind: 'png' | 'jpeg' | 'svg+xml' } | { readonly message: string };

function kindOf(bytes: Uint8Array): Found {
  const begins = (signature: readonly number[]) => signature.every((byte, i) => bytes[i] === byte);
  if (begins(PNG)) return holds(bytes, [0x49, 0x45, 0x4e, 0x44]) ? { kind: 'png' } : CUT;
  if (begins(JPEG)) return holds(bytes, [0xff, 0xd9]) ? { kind: 'jpeg' } : CUT;
  const text = new TextDecoder().decode(bytes);
  if (!/^\ufeff?\s*(<\?xml[^>]*\?>\s*)?(<!--[\s\S]*?-->\s*)*<svg[\s>]/i.test(text)) {
    return /^\ufeff?\s*(<\?xml|<!DOCTYPE svg)/i.test(text) && /<svg[\s>]/i.test(text)
      ? drawing(text)
      : UNKNOWN;
  }
  return drawing(text);
}

const UNKNOWN: Found = { message: 'is no PNG, JPEG or SVG picture; save the logo as one of these' };
const CUT: Found = { message: 'ends before the picture does; save or copy it again' };

function drawing(text: string): Found {
  const held = FORBIDDEN.find(([pattern]) => pattern.test(text));
  if (held)
    return { message: `holds ${held[1]}, which a report may not carry; save it as a plain SVG or a PNG` };
  return /<\/svg\s*>\s*(<!--[\s\S]*?-->\s*)*$|<svg[^>]*\/>\s*$/i.test(text) ? { kind: 'svg+xml' } : CUT;
}

function holds(bytes: Uint8Array, part: readonly number[]): boolean {
  for (let at = bytes.length - part.length; at >= 0; at--)
    if (part.every((byte, i) => bytes[at + i] === byte)) return true;
  return false;
}

function inBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192)
    text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}

const EMBEDDED = /^data:image\/(png|jpeg|svg\+xml);base64,[A-Za-z0-9+/]+=*$/;

/** Whether a text is a picture as `readLogo` embeds it. */
export function isLogo(text: unknown): boolean {
  return typeof text === 'string' && text.length < 1.4 * LARGEST_LOGO && EMBEDDED.test(text);
}
