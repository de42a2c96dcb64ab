import { createHash } from 'node:crypto';
import { type DocumentParts, htmlDocument, inlineScript } from '../html/document-text.ts';
import { deflate } from './deflate.ts';

export type { DocumentParts } from '../html/document-text.ts';

/** A page that stands alone, as one text. */
export function documentText(parts: DocumentParts): string {
  return htmlDocument(parts, {
    hash,
    deflate,
  });
}

/** Hash by which a page's policy admits a script, for a page that cannot compute one itself. */
export function scriptHash(script: string): string {
  return hash(inlineScript(script));
}

function hash(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('base64');
}
