import { CHOKE } from '../../search/window/window.ts';
import { listed } from './listed.ts';
import { measureText } from './measure.ts';
import type { WindowInput } from './window.ts';

/** What to see, and what bounds it. */
export function captionOf({ window, x, y, words, quantity }: WindowInput): string {
  const colours = `Colour: ${measureText(quantity)}.`;
  const never = window.limits
    .filter(({ reach }) => reach === 'nowhere')
    .map(({ name }) => words[name] ?? name);
  if (window.limits.length === 0) return `The file names no spec, so nothing limits this plane. ${colours}`;
  if (window.meeting.length === 0) {
    const why =
      never.length > 0
        ? ` ${never.join(' and ')} is met nowhere on it.`
        : ' No place meets all limits at once.';
    return `Nothing on this plane meets the whole spec.${why} ${colours}`;
  }
  const active = [...new Set(window.edge.map(({ limit }) => limit))].filter((name) => name !== 'rim');
  const names = active.map((name) => (name === CHOKE ? 'choking' : (words[name] ?? name)));
  const bounded =
    names.length > 0 ? ` It is bounded by ${listed(names)}.` : ' No limit is reached on this plane.';
  const about = window.limits.some(({ band }) => band.length > 0)
    ? ' Grey: where the limits on its edge lie in the middle half of plausible coefficients.'
    : '';
  return `Inside the heavy line, every ${x.name} and ${y.name} meets the whole spec.${bounded} Teeth point to the side that fails.${about} ${colours}`;
}
