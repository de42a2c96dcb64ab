import type { Table } from '../../answers/table.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { FigureName, InputOf } from '../figures/index.ts';

/** What the lesson is told on: a mill, and the invented demo mill where it really chokes. */
export interface Lesson {
  readonly scenario: Scenario;
  readonly fold: Scenario;
}

/** A number moved by hand. */
export interface LessonSlider {
  readonly id: string;
  readonly name: string;
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly value: number;
  /** Even steps of the hand are even ratios of the number. */
  readonly ratio?: boolean;
}

/** What the sliders stand at, in the units shown. */
export type Values = Readonly<Record<string, number>>;

/** A figure of a step with its data. */
export type StepFigure = {
  readonly [Name in FigureName]: { readonly figure: Name; readonly input: InputOf<Name> };
}[FigureName];

/** What a step shows at given values; facts are name and value with unit. */
export interface Shown {
  readonly figures: readonly StepFigure[];
  readonly facts: readonly (readonly [name: string, value: string])[];
  /** Mills side by side, where a step compares some. */
  readonly table?: Table;
}

/** One step of the lesson: one thing to see, one question. */
export interface LessonStep {
  readonly id: string;
  readonly title: string;
  readonly say: (lesson: Lesson) => readonly string[];
  readonly question: (lesson: Lesson) => string;
  readonly sliders: (lesson: Lesson) => readonly LessonSlider[];
  readonly show: (lesson: Lesson, values: Values) => Shown;
}

/** What a student does not get; kept apart from the step, so that the student's file holds none of it. */
export interface StepKey {
  /** With the model's own numbers. */
  readonly answer: (lesson: Lesson) => string;
  /** For who teaches: what to do, what is often misunderstood, how long. */
  readonly notes: string;
}
