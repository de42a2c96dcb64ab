import { together } from '../../answers/text.ts';
import { element } from './dom.ts';

/** Room between what is read and its words [px]. */
const AWAY = 12;

/** Words beside a place in a figure; a screen reader speaks them only where the keyboard moved there. */
export class Tip {
  private readonly words = element('p', { class: 'tip', hidden: true, 'aria-live': 'off' });
  private readonly box: HTMLElement;

  /** @param box element, positioned, whose pixels the place is given in */
  constructor(box: HTMLElement) {
    this.box = box;
    box.append(this.words);
  }

  show(words: string, left: number, top: number, spoken: boolean): void {
    const { words: tip, box } = this;
    tip.setAttribute('aria-live', spoken ? 'polite' : 'off');
    tip.hidden = false;
    tip.textContent = together(words);
    const right = left > box.clientWidth / 2;
    const below = top < tip.offsetHeight + 2 * AWAY;
    tip.style.left = right ? 'auto' : `${left + AWAY}px`;
    tip.style.right = right ? `${box.clientWidth - left + AWAY}px` : 'auto';
    tip.style.top = below ? `${top + AWAY}px` : `${top - AWAY - tip.offsetHeight}px`;
  }

  hide(): void {
    this.words.hidden = true;
  }
}
