import { type Document, isMap, isNode, isScalar, isSeq, parseDocument } from 'yaml';
import type { StatePart } from './address.ts';

/** Longest case kept in the address [characters]; a longer one is kept in the browser's storage alone. */
const LONGEST_IN_ADDRESS = 40_000;

export type KeyPath = readonly (string | number)[];

/** The case as one text that form and text view both change; comments stay where they are. */
export class CaseText implements StatePart {
  private now: string;
  private readonly first: string;
  private parsed: Document | undefined;
  private readonly listeners: (() => void)[] = [];

  constructor(text: string) {
    this.first = text;
    this.now = text;
  }

  get text(): string {
    return this.now;
  }

  set(text: string): void {
    if (text === this.now) return;
    this.now = text;
    this.parsed = undefined;
    for (const listener of this.listeners) listener();
  }

  onChange(listener: () => void): void {
    this.listeners.push(listener);
  }

  read(): Readonly<Record<string, string>> {
    return this.now === this.first || this.now.length > LONGEST_IN_ADDRESS ? {} : { case: this.now };
  }

  write(state: Readonly<Record<string, string>>): void {
    this.set(state.case ?? this.first);
  }

  /** The text as a document; undefined where it cannot be read as YAML. */
  get document(): Document | undefined {
    this.parsed ??= parseDocument(this.now, {
      schema: 'failsafe',
      uniqueKeys: false,
      prettyErrors: false,
      logLevel: 'silent',
    });
    return this.parsed.errors.length === 0 && isMap(this.parsed.contents) ? this.parsed : undefined;
  }

  /** Text of one value; undefined where there is none or it is a block or list. */
  valueAt(path: KeyPath): string | undefined {
    const node = this.document?.getIn(path, true);
    return isScalar(node) ? String(node.value ?? '') : undefined;
  }

  /** Keys of a block. */
  keysAt(path: KeyPath): string[] {
    const node = this.document?.getIn(path, true);
    return isMap(node) ? node.items.map(({ key }) => String(isScalar(key) ? key.value : key)) : [];
  }

  /** Texts of a list, or of one value that stands for a list. */
  listAt(path: KeyPath): string[] {
    const node = this.document?.getIn(path, true);
    if (isScalar(node)) return node.value ? [String(node.value)] : [];
    return isSeq(node) ? node.items.map((item) => String(isScalar(item) ? item.value : item)) : [];
  }

  /** Changes one value, in its place in the text where it has one. */
  put(path: KeyPath, value: string): void {
    const node = this.document?.getIn(path, true);
    if (isScalar(node) && node.range && node.type !== 'BLOCK_FOLDED' && node.type !== 'BLOCK_LITERAL') {
      const [from, to] = node.range;
      if (to > from) {
        this.set(this.now.slice(0, from) + scalarText(value) + this.now.slice(to));
        return;
      }
    }
    this.putWhole(path, value);
  }

  /** Changes a block, a list or a value by its data. */
  putWhole(path: KeyPath, value: unknown): void {
    this.edit((document) => {
      for (let depth = 1; depth < path.length; depth++) {
        const above = document.getIn(path.slice(0, depth), true);
        // `machine: pilot-300` stands for `machine: { from: pilot-300 }`
        if (isScalar(above))
          document.setIn(path.slice(0, depth), document.createNode({ from: above.value }, { flow: true }));
      }
      const node = document.createNode(value, { flow: true });
      const before = document.getIn(path, true);
      if (isNode(before) && before.comment) node.comment = before.comment;
      document.setIn(path, node);
    });
  }

  remove(path: KeyPath): void {
    this.edit((document) => document.deleteIn(path));
  }

  add(path: KeyPath, value: string): void {
    const node = this.document?.getIn(path, true);
    if (isSeq(node)) this.edit((document) => document.addIn(path, document.createNode(value)));
    else this.putWhole(path, [...this.listAt(path), value]);
  }

  private edit(change: (document: Document) => void): void {
    const { document } = this;
    if (!document) return;
    change(document);
    const text = document.toString({ lineWidth: 0, flowCollectionPadding: true });
    this.parsed = undefined;
    this.set(text);
  }
}

/** A value as it may stand in any place of a YAML text. */
function scalarText(value: string): string {
  return /^[\p{L}\p{N}.+-][^,[\]{}#:"'\n]*$/u.test(value) && value === value.trim()
    ? value
    : JSON.stringify(value);
}
