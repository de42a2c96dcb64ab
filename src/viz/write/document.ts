import { createHash } from 'node:crypto';
import { type DocumentParts, htmlDocument } from '../html/document-text.ts';
import { deflate } from './deflate.ts';

export type { DocumentParts } from '../html/document-text.ts';

/** A page that stands alone, as one text. */
export function documentText(parts: DocumentParts): string {
  return htmlDocument(parts, {
    hash: (text) => createHash('sha256').update(text, 'utf8').digest('base64'),
    deflate,
  });
}
