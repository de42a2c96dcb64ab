/** Arithmetic over quantities, already checked for kinds of unit; every number SI. Plain data, cloneable. */
export type Expression =
  | { readonly kind: 'number'; readonly value: number }
  /** `argument` is a size [m] or a share [-], as in passing(75 um). */
  | { readonly kind: 'quantity'; readonly name: string; readonly argument?: number }
  | { readonly kind: 'negate'; readonly of: Expression }
  | {
      readonly kind: 'binary';
      readonly operator: '+' | '-' | '*' | '/';
      readonly left: Expression;
      readonly right: Expression;
    };

/** One line of the spec, e.g. `passing(75 um) >= 95 %`. */
export interface Requirement {
  readonly text: string;
  readonly relation: '>=' | '<=' | '>' | '<';
  readonly left: Expression;
  readonly right: Expression;
  /** Unit in which value, limit and margin are shown. */
  readonly shownIn: string;
}

/**
 * Value of an expression, SI.
 *
 * @param lookup gives a quantity's value by name and optional argument
 */
export function evaluate(
  expression: Expression,
  lookup: (name: string, argument?: number) => number,
): number {
  switch (expression.kind) {
    case 'number':
      return expression.value;
    case 'quantity':
      return lookup(expression.name, expression.argument);
    case 'negate':
      return -evaluate(expression.of, lookup);
    case 'binary': {
      const left = evaluate(expression.left, lookup);
      const right = evaluate(expression.right, lookup);
      switch (expression.operator) {
        case '+':
          return left + right;
        case '-':
          return left - right;
        case '*':
          return left * right;
        case '/':
          return left / right;
      }
    }
  }
}

/** Names of the quantities an expression reads. */
export function namesIn(expression: Expression): string[] {
  switch (expression.kind) {
    case 'number':
      return [];
    case 'quantity':
      return [expression.name];
    case 'negate':
      return namesIn(expression.of);
    case 'binary':
      return [...namesIn(expression.left), ...namesIn(expression.right)];
  }
}
