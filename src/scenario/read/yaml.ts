import { isAlias, isMap, isScalar, isSeq, LineCounter, parseDocument, type YAMLError } from 'yaml';
import type { Fault } from '../errors.ts';
import { tooDeep, unreadable } from './input-limits.ts';
import type { Node, Origin } from './node.ts';

const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);
const MOST_FAULTS = 20;

/** What the conversion of one text needs. */
interface Reading {
  readonly origin: Origin;
  readonly place: string;
  readonly lines: LineCounter;
  readonly faults: Fault[];
}

/**
 * Text of one file → its nodes. Every value stays the text that was typed, letters with marks composed (one ü, not u and its dots); anchors, aliases and tags are refused.
 *
 * @returns the nodes, or every fault of the notation at once
 */
export function readYaml(text: string, origin: Origin): { node?: Node; faults: readonly Fault[] } {
  const place = origin.name || 'file';
  const refused = unreadable(text) ?? tooDeep(text);
  if (refused) return { faults: [{ place, ...refused }] };
  const lines = new LineCounter();
  const reading: Reading = { origin, place, lines, faults: [] };
  let node: Node | undefined;
  try {
    const document = parseDocument(text.replace(/^\ufeff/, '').normalize('NFC'), {
      schema: 'failsafe',
      lineCounter: lines,
      uniqueKeys: false,
      prettyErrors: false,
      logLevel: 'silent',
    });
    for (const error of document.errors.slice(0, MOST_FAULTS)) reading.faults.push(notation(error, reading));
    if (reading.faults.length === 0) node = convert(document.contents, reading, '');
  } catch {
    reading.faults.push({ place, message: 'is not readable as YAML' });
  }
  return node && reading.faults.length === 0 ? { node, faults: [] } : { faults: reading.faults };
}

function notation(error: YAMLError, { place, lines }: Reading): Fault {
  const line = lines.linePos(error.pos[0]).line;
  return { place, line, message: `is not readable as YAML: ${error.message.split('\n')[0]}` };
}

function refuse(reading: Reading, path: string, line: number, message: string): undefined {
  if (reading.faults.length < MOST_FAULTS) {
    reading.faults.push({ place: path === '' ? reading.place : path, line, message });
  }
}

function convert(item: unknown, reading: Reading, path: string): Node | undefined {
  const { origin } = reading;
  const offset = (item as { range?: readonly number[] } | null)?.range?.[0] ?? 0;
  const line = reading.lines.linePos(offset).line || 1;
  if (item === null) return { kind: 'leaf', text: '', line, origin };
  if (isAlias(item)) return refuse(reading, path, line, 'must not use aliases (*name); use `from:` instead');
  const decorated = item as { anchor?: string; tag?: string };
  if (decorated.anchor)
    return refuse(reading, path, line, 'must not use anchors (&name); use `from:` instead');
  if (decorated.tag && !/^tag:yaml\.org,2002:(str|map|seq)$/.test(decorated.tag)) {
    return refuse(reading, path, line, 'must not use tags (!name); write the plain value');
  }
  if (isScalar(item)) return { kind: 'leaf', text: String(item.value ?? ''), line, origin };
  if (isSeq(item)) {
    const items = item.items.map((child, i) => convert(child, reading, `${path}[${i}]`));
    return { kind: 'list', items: items.filter((child) => child !== undefined), line, origin };
  }
  return isMap(item) ? convertMap(item.items, reading, path, line) : undefined;
}

function convertMap(
  pairs: readonly { readonly key: unknown; readonly value: unknown }[],
  reading: Reading,
  path: string,
  line: number,
): Node {
  const entries = new Map<string, Node>();
  for (const pair of pairs) {
    const keyLine =
      reading.lines.linePos((pair.key as { range?: number[] } | null)?.range?.[0] ?? 0).line || line;
    if (!isScalar(pair.key)) {
      refuse(reading, path, keyLine, 'must have plain words as keys');
      continue;
    }
    const key = String(pair.key.value ?? '');
    const place = path === '' ? key : `${path}.${key}`;
    if (FORBIDDEN_KEYS.has(key))
      refuse(reading, place, keyLine, 'must not be used as a key; choose another name');
    else if (entries.has(key)) refuse(reading, place, keyLine, 'is given twice; keep one');
    else {
      const value = convert(pair.value, reading, place);
      if (value) entries.set(key, value.kind === 'leaf' ? { ...value, line: keyLine } : value);
    }
  }
  return { kind: 'block', entries, line, origin: reading.origin };
}
