import type { MathNode } from 'mathjs';
import { suggestion } from '../read/nearest.ts';
import { fromShown, isShownUnit, siUnitOf } from '../units/display.ts';
import { kindOf } from '../units/kinds.ts';
import { isolatedMath } from '../units/mathjs.ts';
import { sieveOpening } from '../units/mesh.ts';
import { isProblem, type Problem, problem } from '../units/problem.ts';
import { combine, type Dimension, dimensionOf, isPure, sameBase } from './dimension.ts';
import { type Expression, evaluate } from './expression.ts';

/** What of a quantity an expression needs to know. */
export interface Named {
  readonly name: string;
  readonly unit: string;
  readonly shownIn: string;
  readonly argument?: 'size' | 'share';
}

/** An expression with its kind, the unit written in it, and the quantities it names. */
export interface Typed {
  readonly expression: Expression;
  readonly dimension: Dimension;
  /** Kind in words, for messages. */
  readonly kind: string;
  /** Unit as written, where it is a single one. */
  readonly unit?: string;
  readonly names: readonly string[];
}

/** The few parts of a parsed tree that an expression may have. */
type Tree = MathNode & {
  readonly fn?: string | { readonly name?: string };
  readonly args?: readonly Tree[];
  readonly op?: string;
  readonly implicit?: boolean;
  readonly name?: string;
  readonly value?: unknown;
  readonly content?: Tree;
};

const DEEPEST = 40;
const OPERATORS = { add: '+', subtract: '-', multiply: '*', divide: '/' } as const;
const PERCENTILE = /^x(\d{1,2}(?:\.\d{1,4})?)$/;
const NUMBER = dimensionOf('1');

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
  return { expression: { kind: 'number', value }, dimension: NUMBER, kind: 'a pure number', names: [] };
}

function symbol(typed: string, quantities: readonly Named[]): Typed | Problem {
  const name = typed.replace(/^x(\d{1,2})_(\d+)$/, 'x$1.$2');
  const quantity = quantities.find((one) => one.name === name);
  if (quantity) {
    if (quantity.argument) {
      const example = quantity.argument === 'size' ? '75 um' : '50 %';
      return problem(`must say of which ${quantity.argument}: ${name}(${example})`);
    }
    return ofQuantity(name, quantity);
  }
  const percent = Number(PERCENTILE.exec(name)?.[1]);
  if (percent > 0 && percent < 100) return ofQuantity(name, { unit: 'm', shownIn: 'um' });
  return (
    unitSymbol(name) ??
    problem(
      `names ${name}, which is no quantity and no unit${suggestion(
        name,
        quantities.map((q) => q.name),
      )}`,
    )
  );
}

function ofQuantity(name: string, { unit, shownIn }: Pick<Named, 'unit' | 'shownIn'>): Typed {
  const dimension = { ...dimensionOf(unit), absolute: shownIn === 'degC' };
  return { expression: { kind: 'quantity', name }, dimension, kind: kindOf(unit), names: [name] };
}

/** A unit standing for its SI value; temperatures and mesh only follow their number, see `scaleReading`. */
function unitSymbol(name: string): Typed | Problem | undefined {
  if (name === 'Hz') return problem('has Hz; for a shaft write rpm');
  if (/^(degC|degF|mesh)$/.test(name)) return problem(`must have a number before ${name}`);
  if (/^tons?$/.test(name))
    return problem('has the unit ton, of which there are three; write t (1000 kg) or lb');
  try {
    const unit = isolatedMath().unit(`1 ${name}`);
    const value = (unit.toSI() as unknown as { value: number }).value;
    const powers = (unit as unknown as { dimensions: number[] }).dimensions;
    const shown = isShownUnit(name) ? { unit: name } : {};
    const kind = isShownUnit(name) ? kindOf(siUnitOf(name)) : `a value in ${name}`;
    return {
      expression: { kind: 'number', value },
      dimension: { powers, absolute: false },
      kind,
      names: [],
      ...shown,
    };
  } catch {
    return undefined;
  }
}

/** `passing(75 um)`: the only form in which a name takes brackets. */
function argued(
  tree: Tree,
  quantities: readonly Named[],
  deeper: (child: Tree) => Typed | Problem,
): Typed | Problem {
  const name = typeof tree.fn === 'object' ? (tree.fn.name ?? '') : String(tree.fn ?? '');
  const quantity = quantities.find((one) => one.name === name && one.argument);
  if (!quantity) {
    const takers = quantities.filter((one) => one.argument).map((one) => one.name);
    return problem(`uses ${name}(…); only ${takers.join(', ')} take brackets`);
  }
  if (tree.args?.length !== 1) return problem(`must give ${name} one ${quantity.argument}`);
  const argument = deeper(tree.args[0]!);
  if (isProblem(argument)) return argument;
  const wanted = quantity.argument === 'size' ? 'm' : '1';
  if (argument.names.length > 0 || !sameBase(argument.dimension, dimensionOf(wanted))) {
    return problem(`must give ${name} ${wanted === 'm' ? 'a size, e.g. 75 um' : 'a share, e.g. 50 %'}`);
  }
  const value = evaluate(argument.expression, () => Number.NaN);
  const inside = value > 0 && (wanted === 'm' ? value <= 1 : value < 1);
  if (!inside)
    return problem(`must give ${name} ${wanted === 'm' ? 'a size above 0' : 'a share between 0 and 100 %'}`);
  return { ...ofQuantity(name, quantity), expression: { kind: 'quantity', name, argument: value } };
}

function operator(tree: Tree, deeper: (child: Tree) => Typed | Problem): Typed | Problem {
  const args = tree.args ?? [];
  if (args.length === 1) return unary(tree, deeper(args[0]!));
  const reading = scaleReading(tree);
  if (reading) return reading;
  if (tree.fn === 'pow') return power(args, deeper);
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
  if (of.dimension.absolute) return problem('must not negate a temperature in degC');
  return { ...of, expression: fold({ kind: 'negate', of: of.expression }, of) };
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
  const kelvin = (isolatedMath().unit(value, unit.name).toSI() as unknown as { value: number }).value;
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

/** Whole powers of units only, as in m^3/h. */
function power(args: readonly Tree[], deeper: (child: Tree) => Typed | Problem): Typed | Problem {
  const base = deeper(args[0]!);
  if (isProblem(base)) return base;
  const exponent = signedConstant(args[1]);
  if (
    base.names.length > 0 ||
    exponent === undefined ||
    !Number.isInteger(exponent) ||
    Math.abs(exponent) > 4
  ) {
    return problem('may use ^ only in units, e.g. m^3/h');
  }
  const value = evaluate(base.expression, () => Number.NaN) ** exponent;
  const dimension = { powers: base.dimension.powers.map((one) => one * exponent), absolute: false };
  const unit = base.unit === undefined ? undefined : `${base.unit}^${exponent}`;
  const kind = unit && isShownUnit(unit) ? kindOf(siUnitOf(unit)) : 'a value of another kind';
  return { expression: { kind: 'number', value }, dimension, kind, names: [], ...(unit ? { unit } : {}) };
}

function binary(operatorSign: '+' | '-' | '*' | '/', left: Typed, right: Typed): Typed | Problem {
  const names = [...left.names, ...right.names];
  const expression: Expression = {
    kind: 'binary',
    operator: operatorSign,
    left: left.expression,
    right: right.expression,
  };
  if (operatorSign === '*' || operatorSign === '/') {
    if (left.dimension.absolute || right.dimension.absolute) {
      return problem('must not multiply or divide a temperature in degC; take a difference first');
    }
    const dimension = combine(left.dimension, right.dimension, operatorSign === '*' ? 1 : -1);
    return {
      ...product(operatorSign, left, right),
      expression: (operatorSign === '*' ? typedValue(left, right) : undefined) ?? fold(expression, { names }),
      dimension,
      names,
    };
  }
  if (!sameBase(left.dimension, right.dimension)) {
    return problem(`must add like to like, but one is ${left.kind} and the other ${right.kind}`);
  }
  const absolute = absoluteOf(operatorSign, left.dimension, right.dimension);
  if (absolute === undefined) return problem('must not add two temperatures, or take one from a difference');
  const kind = left.dimension.absolute && !absolute ? 'a temperature difference' : left.kind;
  return {
    expression: fold(expression, { names }),
    dimension: { powers: left.dimension.powers, absolute },
    kind,
    names,
    ...(left.unit === undefined || kind !== left.kind ? {} : { unit: left.unit }),
  };
}

/** A number before its unit, converted as everywhere else in the file, so that no last digit differs. */
function typedValue(left: Typed, right: Typed): Expression | undefined {
  const { expression } = left;
  if (
    expression.kind !== 'number' ||
    !isPure(left.dimension) ||
    left.unit !== undefined ||
    right.unit === undefined
  ) {
    return undefined;
  }
  if (right.names.length > 0 || !isShownUnit(right.unit)) return undefined;
  return { kind: 'number', value: fromShown(expression.value, right.unit) };
}

function absoluteOf(sign: '+' | '-', left: Dimension, right: Dimension): boolean | undefined {
  if (!left.absolute && !right.absolute) return false;
  if (sign === '-') return left.absolute ? !right.absolute : undefined;
  return left.absolute && right.absolute ? undefined : true;
}

/** Kind and written unit of a product: `1500 m^3/h` is a number times one unit. */
function product(sign: '*' | '/', left: Typed, right: Typed): Pick<Typed, 'kind' | 'unit'> {
  if (isPure(left.dimension) && left.unit === undefined && sign === '*') {
    return right.unit === undefined ? { kind: right.kind } : { kind: right.kind, unit: right.unit };
  }
  if (isPure(right.dimension) && right.unit === undefined) {
    return left.unit === undefined ? { kind: left.kind } : { kind: left.kind, unit: left.unit };
  }
  const unit = left.unit && right.unit ? `${left.unit}${sign}${right.unit}` : undefined;
  if (unit && isShownUnit(unit)) return { kind: kindOf(siUnitOf(unit)), unit };
  return { kind: unit ? `a value in ${unit}` : 'a value of another kind', ...(unit ? { unit } : {}) };
}

/** Constant parts become one number. */
function fold(expression: Expression, { names }: { readonly names: readonly string[] }): Expression {
  if (names.length > 0) return expression;
  return { kind: 'number', value: evaluate(expression, () => Number.NaN) };
}
