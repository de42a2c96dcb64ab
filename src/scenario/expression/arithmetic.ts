import { combine, type Dimension, isPure, sameBase } from '../units/dimension.ts';
import { fromShown, isShownUnit, siUnitOf } from '../units/display.ts';
import { kindOf } from '../units/kinds.ts';
import { type Problem, problem } from '../units/unit-problem.ts';
import { type Expression, evaluate } from './expression.ts';
import type { Typed } from './typed.ts';

/** Two sides joined, where their kinds allow it; constant parts become one number. */
export function binary(operatorSign: '+' | '-' | '*' | '/', left: Typed, right: Typed): Typed | Problem {
  const names = [...left.names, ...right.names];
  const expression: Expression = {
    kind: 'binary',
    operator: operatorSign,
    left: left.expression,
    right: right.expression,
  };
  if (operatorSign === '*' || operatorSign === '/') {
    if (operatorSign === '/' && isZero(right)) return problem('must not divide by 0');
    if (operatorSign === '*' && names.length > 0 && (isZero(left) || isZero(right)))
      return problem('must not multiply a quantity by 0: the result is always 0');
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

function isZero({ expression }: Typed): boolean {
  return expression.kind === 'number' && expression.value === 0;
}

/** A side negated. */
export function negated(of: Typed): Typed | Problem {
  if (of.dimension.absolute) return problem('must not negate a temperature in degC');
  return { ...of, expression: fold({ kind: 'negate', of: of.expression }, of) };
}

/** Whole powers of units only, as in m^3/h. */
export function raised(base: Typed, exponent: number | undefined): Typed | Problem {
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
