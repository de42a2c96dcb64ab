import type { MathNode } from 'mathjs';
import { dimensionOf } from '../units/dimension.ts';
import { fromShown } from '../units/display.ts';
import { isolatedMath } from '../units/mathjs.ts';
import { sieveOpening } from '../units/mesh.ts';
import { isProblem, type Problem, problem } from '../units/unit-problem.ts';
import { binary, negated, raised } from './arithmetic.ts';
import { argued, symbol } from './names.ts';
import type { Named, Tree, Typed } from './typed.ts';

const DEEPEST = 40;
const OPERATORS = { add: '+', subtract: '-', multiply: '*', divide: '/' } as const;

/** Parsed tree → expression in SI, every node checked; anything but arithmetic over quantities is refused. */
export function translate(node: MathNode, quantities: readonly Named[], depth = 0): Typed | Problem {
  if (depth > DEEPEST) return problem('is nested too deep');
  const tree = node as Tree;
  const deeper = (child: Tree) => translate(child, quantities, depth + 1);
  switch (tree.type) {
    case 'ParenthesisNode':
      return deeper(tree.content!);
    case 'ConstantNode':
      return constant(tree.value);
    case 'SymbolNode':
      return symbol(tree.name!, quantities);
    case 'FunctionNode':
      return argued(tree, quantities, deeper);
    case 'OperatorNode':
      return operator(tree, deeper);
    default:
      return problem(
        `may hold numbers with units, quantities, + - * / ( ) and one comparison; not ${words(tree.type)}`,
      );
  }
}

function words(type: string): string {
  const REFUSED: Readonly<Record<string, string>> = {
    AccessorNode: 'a dotted name',
    ArrayNode: 'a list',
    AssignmentNode: 'an assignment',
    BlockNode: 'several statements',
    ConditionalNode: 'a condition',
    FunctionAssignmentNode: 'a definition',
    IndexNode: 'an index',
    ObjectNode: 'an object',
    RangeNode: 'a range',
    RelationalNode: 'a chain of comparisons',
  };
  return Object.hasOwn(REFUSED, type) ? REFUSED[type]! : 'anything else';
}

function constant(value: unknown): Typed | Problem {
  if (typeof value !== 'number' || !Number.isFinite(value)) return problem('must have finite numbers');
  return {
    expression: { kind: 'number', value },
    dimension: dimensionOf('1'),
    kind: 'a pure number',
    names: [],
  };
}

function operator(tree: Tree, deeper: (child: Tree) => Typed | Problem): Typed | Problem {
  const args = tree.args ?? [];
  if (args.length === 1) return unary(tree, deeper(args[0]!));
  const reading = scaleReading(tree);
  if (reading) return reading;
  if (tree.fn === 'pow') {
    const base = deeper(args[0]!);
    return isProblem(base) ? base : raised(base, signedConstant(args[1]));
  }
  const sign = OPERATORS[tree.fn as keyof typeof OPERATORS];
  if (!sign) return problem(`may use + - * / and one comparison; not ${tree.op ?? 'this'}`);
  const left = deeper(args[0]!);
  if (isProblem(left)) return left;
  const right = deeper(args[1]!);
  if (isProblem(right)) return right;
  return binary(sign, left, right);
}

function unary(tree: Tree, of: Typed | Problem): Typed | Problem {
  if (isProblem(of)) return of;
  if (tree.fn === 'unaryPlus') return of;
  if (tree.fn !== 'unaryMinus')
    return problem(`may use + - * / and one comparison; not ${tree.op ?? 'this'}`);
  return negated(of);
}

/** `50 degC`, `200 mesh`: readings of a scale, not multiples of a unit. */
function scaleReading(tree: Tree): Typed | Problem | undefined {
  const [number, unit] = tree.args ?? [];
  if (tree.fn !== 'multiply' || !tree.implicit || unit?.type !== 'SymbolNode') return undefined;
  const value = signedConstant(number);
  if (value === undefined) return undefined;
  if (unit.name === 'mesh') {
    const opening = sieveOpening(value);
    if (isProblem(opening)) return opening;
    return {
      expression: { kind: 'number', value: opening },
      dimension: dimensionOf('m'),
      kind: 'a length',
      unit: 'um',
      names: [],
    };
  }
  if (unit.name !== 'degC' && unit.name !== 'degF') return undefined;
  const kelvin =
    unit.name === 'degC'
      ? fromShown(value, 'degC')
      : (isolatedMath().unit(value, unit.name).toSI() as unknown as { value: number }).value;
  if (kelvin < 0) return problem(`is below absolute zero (−273.15 °C): ${value} ${unit.name}`);
  const dimension = { ...dimensionOf('K'), absolute: true };
  return {
    expression: { kind: 'number', value: kelvin },
    dimension,
    kind: 'a temperature',
    unit: 'degC',
    names: [],
  };
}

function signedConstant(node: Tree | undefined): number | undefined {
  if (node?.type === 'ConstantNode' && typeof node.value === 'number') return node.value;
  if (node?.type === 'OperatorNode' && node.fn === 'unaryMinus') {
    const value = signedConstant(node.args?.[0]);
    return value === undefined ? undefined : -value;
  }
  return undefined;
}
