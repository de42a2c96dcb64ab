import { isShownUnit } from '../units/display.ts';
import type { Tree } from './typed.ts';

/** Words with a meaning of their own to the parser. */
const RESERVED = /^(mod|to|in|and|xor|or|not|true|false|null|undefined|NaN|Infinity|end|mesh)$/;
const NAME = /^[A-Za-z]\w*$/;
const ARGUED = /^([A-Za-z]\w*)\(([^()]*)\)$/;
const VALUE = /^(\d+(?:\.\d+)?)(?:\s*(%|[A-Za-z]+))?$/;
const COMPARISON = /^([^<>=]+)(>=|<=|>|<)([^<>=]+)$/;
const FUNCTIONS = { '>=': 'largerEq', '<=': 'smallerEq', '>': 'larger', '<': 'smaller' } as const;

type Node = Pick<Tree, 'fn' | 'args' | 'op' | 'implicit' | 'name' | 'value'> & { readonly type: string };

/**
 * Tree of a text of the usual forms `NAME`, `NAME(75 um)`, `95 %`, `20 um` and a comparison of two of them: the same that the
 * library's parser gives, without loading it, which takes longer than the rest of a run.
 *
 * @returns undefined for any other text, right or wrong, which is then the library's
 */
export function simpleTree(text: string): Tree | undefined {
  const [, left, relation, right] = COMPARISON.exec(text) ?? [];
  if (relation === undefined) return side(text.trim()) as Tree | undefined;
  const args = [side(left!.trim()), side(right!.trim())];
  if (args.includes(undefined)) return undefined;
  const fn = FUNCTIONS[relation as keyof typeof FUNCTIONS];
  return operator(fn, relation, args as Node[]) as Tree;
}

function side(text: string): Node | undefined {
  if (NAME.test(text)) return RESERVED.test(text) ? undefined : { type: 'SymbolNode', name: text };
  const [, name, argument] = ARGUED.exec(text) ?? [];
  if (name === undefined) return value(text);
  const of = value(argument!.trim());
  if (of === undefined || RESERVED.test(name)) return undefined;
  return { type: 'FunctionNode', fn: { name }, args: [of as Tree] };
}

function value(text: string): Node | undefined {
  const [, number, unit] = VALUE.exec(text) ?? [];
  if (number === undefined) return undefined;
  const constant: Node = { type: 'ConstantNode', value: Number(number) };
  if (unit === undefined) return constant;
  if (unit === '%') return operator('divide', '/', [constant, { type: 'ConstantNode', value: 100 }]);
  if (!isShownUnit(unit)) return undefined;
  return { ...operator('multiply', '*', [constant, { type: 'SymbolNode', name: unit }]), implicit: true };
}

function operator(fn: string, op: string, args: readonly Node[]): Node {
  return { type: 'OperatorNode', fn, op, implicit: false, args: args as unknown as readonly Tree[] };
}
