import { suggestion } from '../read/did-you-mean.ts';
import { dimensionOf, sameBase } from '../units/dimension.ts';
import { fromShown, isShownUnit, siUnitOf } from '../units/display.ts';
import { kindOf } from '../units/kinds.ts';
import { isolatedMath } from '../units/mathjs.ts';
import { isProblem, type Problem, problem } from '../units/unit-problem.ts';
import { evaluate } from './expression.ts';
import type { Named, Tree, Typed } from './typed.ts';

const PERCENTILE = /^x(\d{1,2}(?:\.\d{1,4})?)$/;

/** A bare name: a quantity, a percentile, or a unit; else the problem with the nearest name. */
export function symbol(typed: string, quantities: readonly Named[]): Typed | Problem {
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
      `names ${brief(name)}, which is no quantity and no unit${suggestion(
        name,
        quantities.map((q) => q.name),
      )}`,
    )
  );
}

/** `passing(size) and oversize(size)`. */
function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** A name as typed, cut where it is long. */
function brief(name: string): string {
  return name.length > 40 ? `${name.slice(0, 39)}…` : name;
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
  if (isShownUnit(name)) {
    const si = siUnitOf(name);
    const expression = { kind: 'number', value: fromShown(1, name) } as const;
    return { expression, dimension: dimensionOf(si), kind: kindOf(si), names: [], unit: name };
  }
  try {
    const unit = isolatedMath().unit(`1 ${name}`);
    const value = (unit.toSI() as unknown as { value: number }).value;
    const powers = (unit as unknown as { dimensions: number[] }).dimensions;
    return {
      expression: { kind: 'number', value },
      dimension: { powers, absolute: false },
      kind: `a value in ${name}`,
      names: [],
    };
  } catch {
    return undefined;
  }
}

/** `passing(75 um)`: the only form in which a name takes brackets. */
export function argued(
  tree: Tree,
  quantities: readonly Named[],
  deeper: (child: Tree) => Typed | Problem,
): Typed | Problem {
  const name = typeof tree.fn === 'object' ? (tree.fn.name ?? '') : String(tree.fn ?? '');
  const quantity = quantities.find((one) => one.name === name && one.argument);
  if (!quantity) {
    const takers = quantities.filter((one) => one.argument).map((one) => `${one.name}(${one.argument})`);
    return problem(`${brief(name)}(…) is not available; only ${listed(takers)} take an argument`);
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
