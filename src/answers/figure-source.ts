import type { Scenario } from '../scenario/scenario.ts';
import { settingsText } from './settings-words.ts';
import { label } from './text.ts';
import { openingOf } from './verdict-words.ts';

/** What a figure on its own says of where it comes from: the case, its settings, and how far the numbers can be trusted. */
export function sourceWords(scenario: Scenario, what: string): string {
  return `${label(what, 80)}: ${settingsText(scenario)}. ${trustWords(scenario)}`;
}

/** The opening of an answer as a sentence of its own. */
export function trustWords(scenario: Scenario): string {
  return openingOf(scenario).replace(/:$/, '.');
}
