import { type Html, html } from '../html/template.ts';
import type { LessonSlider, Shown, Values } from './step.ts';

/** Id of a step's figure in the page. */
export function figureId(step: string, index: number): string {
  return index === 0 ? step : `${step}-${index + 1}`;
}

/** Facts as names with values. */
export function factsHtml({ facts }: Shown): Html {
  return html`${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}`;
}

/** What the sliders stand at when the page opens. */
export function startOf(sliders: readonly LessonSlider[]): Values {
  return Object.fromEntries(sliders.map(({ id, value }) => [id, value]));
}

/** Steps of the hand on a slider whose steps are ratios. */
export const HAND_STEPS = 1000;

/** Place of a slider's hand for a value. */
export function handOf({ ratio, min, max }: LessonSlider, value: number): number {
  return ratio ? (HAND_STEPS * Math.log(value / min)) / Math.log(max / min) : value;
}

/** Value for a place of the hand. */
export function valueOfHand({ ratio, min, max, step }: LessonSlider, hand: number): number {
  if (!ratio) return hand;
  const value = min * (max / min) ** (hand / HAND_STEPS);
  return Math.min(max, Math.max(min, Math.round(value / step) * step));
}
