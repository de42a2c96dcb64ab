import type { CaseText } from './case-text.ts';
import { byId } from './dom.ts';

/** The case as text: typed in it changes the case, and a fault leads to its line. */
export class TextView {
  private readonly area = byId<HTMLTextAreaElement>('text')!;
  private readonly text: CaseText;

  constructor(text: CaseText) {
    this.text = text;
    this.area.addEventListener('input', () => text.set(this.area.value));
    for (const event of ['keyup', 'click', 'input', 'focus'])
      this.area.addEventListener(event, () => this.sayLine());
    this.update();
  }

  update(): void {
    if (this.area.value !== this.text.text) this.area.value = this.text.text;
    this.sayLine();
  }

  /** Opens the text and selects a line of it. */
  goTo(line: number): void {
    const details = byId<HTMLDetailsElement & HTMLElement>('text-view')!;
    details.open = true;
    const lines = this.text.text.split('\n');
    const at = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    this.area.focus();
    this.area.setSelectionRange(at, at + (lines[line - 1]?.length ?? 0));
    const height = Number.parseFloat(getComputedStyle(this.area).lineHeight) || 18;
    this.area.scrollTop = Math.max(0, (line - 6) * height);
    this.sayLine();
  }

  private sayLine(): void {
    const before = this.area.value.slice(0, this.area.selectionStart ?? 0);
    byId('text-line')!.textContent = `line ${before.split('\n').length}`;
  }
}
