import type { Files } from '../../scenario/read/files.ts';

/** What a desk reads in place of a disk: the text of the case, and the files beside it by name. */
export interface CaseFiles {
  readonly text: string;
  readonly files: Readonly<Record<string, Uint8Array>>;
  /** The grade asked about, of a case with grades; all of them where absent. */
  readonly grade?: string;
}

/** Texts of the catalogue by entry, e.g. `machines/pilot-300`. */
export type Shelf = Readonly<Record<string, string>>;

/** Files of a case as the reader of scenarios takes them: those beside it, and the catalogue that came along. */
export function deskFiles(shelf: Shelf, files: CaseFiles['files']): Files {
  const bytes = (name: string): Uint8Array => {
    const content = files[name.replace(/^\.\//, '')];
    if (!content) throw new Error('it is not among the files of this campaign; open it here');
    return content;
  };
  return {
    readFile: (name) => new TextDecoder().decode(bytes(name)),
    readBytes: bytes,
    catalogue: (entry) => (Object.hasOwn(shelf, entry) ? shelf[entry] : undefined),
    catalogueNames: (kind) => namesOf(shelf, kind),
  };
}

/** Names of the catalogue's entries of one kind. */
export function namesOf(shelf: Shelf, kind: 'machines' | 'materials'): string[] {
  return Object.keys(shelf)
    .filter((entry) => entry.startsWith(`${kind}/`))
    .map((entry) => entry.slice(kind.length + 1));
}
