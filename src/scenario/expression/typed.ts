import type { MathNode } from 'mathjs';
import type { Dimension } from '../units/dimension.ts';
import type { Expression } from './expression.ts';

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
export type Tree = MathNode & {
  readonly fn?: string | { readonly name?: string };
  readonly args?: readonly Tree[];
  readonly op?: string;
  readonly implicit?: boolean;
  readonly name?: string;
  readonly value?: unknown;
  readonly content?: Tree;
};
