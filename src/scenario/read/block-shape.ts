import type { Parameter } from '../../model/parameters.ts';
import type { Laws } from './read-law.ts';

/** What an optional block may hold; the reading, its faults and its evidence follow from this. */
export interface BlockShape {
  readonly summary: string;
  readonly parameters?: readonly Parameter[];
  /** Keys that take one of some words. */
  readonly choices?: Readonly<Record<string, readonly string[]>>;
  /** Keys that take free text. */
  readonly texts?: readonly string[];
  /** Keys that take a law of a registry, with the one taken where the file names none. */
  readonly laws?: Readonly<Record<string, { readonly registry: Laws; readonly otherwise?: string }>>;
  /** Blocks within. */
  readonly blocks?: Readonly<Record<string, BlockShape>>;
  /** Lists of blocks. */
  readonly lists?: Readonly<Record<string, BlockShape>>;
}
