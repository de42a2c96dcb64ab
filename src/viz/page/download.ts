import { element } from './dom.ts';

/** Hands content to the reader as a file. */
export function download(name: string, content: Blob | Uint8Array | string, type: string): void {
  const blob = content instanceof Blob ? content : new Blob([content as BlobPart], { type });
  const url = URL.createObjectURL(blob);
  const link = element('a', { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** A title as the name of a file. */
export function fileName(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replace(/[^\w-]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  return plain.slice(0, 60) || 'case';
}
