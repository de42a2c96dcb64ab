import type { Scenario } from '../../scenario/scenario.ts';
import { readPlainData } from '../../sweep/store/plain-data.ts';
import { FIGURES } from '../figures/index.ts';
import { tableHtml } from '../html/figure.ts';
import { lessonOn } from '../lesson/lesson.ts';
import { factsHtml, figureId, handOf, startOf, valueOfHand } from '../lesson/readings-panel.ts';
import type { Lesson, LessonSlider, LessonStep, Values } from '../lesson/step.ts';
import { STEPS } from '../lesson/steps.ts';
import { AddressState, type StatePart } from './address.ts';
import { byId } from './dom.ts';
import { Presenter } from './presenter.ts';
import { Stage } from './stage.ts';

/** A step computed again by the model as its sliders move; first when it comes near, so that the page opens at once. */
class StepView implements StatePart {
  private readonly stage: Stage;
  private readonly lesson: Lesson;
  private readonly step: LessonStep;
  private readonly root: HTMLElement;
  private readonly sliders: readonly LessonSlider[];
  private values: Values;
  private waiting = 0;
  private changed = () => {};

  constructor(stage: Stage, lesson: Lesson, step: LessonStep) {
    this.stage = stage;
    this.lesson = lesson;
    this.step = step;
    this.root = document.querySelector<HTMLElement>(`[data-step="${step.id}"]`)!;
    this.sliders = step.sliders(lesson);
    this.values = startOf(this.sliders);
    for (const slider of this.sliders) this.listen(slider);
    const near = new IntersectionObserver(
      (entries) => {
        if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
        near.disconnect();
        this.show();
      },
      { rootMargin: '400px 0px' },
    );
    near.observe(this.root);
  }

  private listen(slider: LessonSlider): void {
    const input = this.inputOf(slider);
    input.addEventListener('input', () => {
      this.set(slider, valueOfHand(slider, Number(input.value)));
      this.changed();
    });
  }

  private inputOf({ id }: LessonSlider): HTMLInputElement {
    return this.root.querySelector<HTMLInputElement>(`[data-slider="${id}"]`)!;
  }

  /** Takes a value over to the words beside the slider and, with the next frame, to the figures. */
  private set(slider: LessonSlider, value: number): void {
    const input = this.inputOf(slider);
    const text = `${Number(value.toPrecision(4))} ${slider.unit}`.trim();
    this.root.querySelector<HTMLElement>(`output[for="${input.id}"]`)!.textContent = text;
    input.setAttribute('aria-valuetext', text);
    this.values = { ...this.values, [slider.id]: value };
    cancelAnimationFrame(this.waiting);
    this.waiting = requestAnimationFrame(() => this.show());
  }

  private move(slider: LessonSlider, value: number): void {
    if (this.values[slider.id] === value) return;
    this.inputOf(slider).value = String(handOf(slider, value));
    this.set(slider, value);
  }

  /** Every slider back to where it stood at first. */
  reset(): void {
    for (const slider of this.sliders) this.move(slider, slider.value);
    this.changed();
  }

  /** Values that differ from the first, named by step and slider. */
  read(): Readonly<Record<string, string>> {
    const moved = this.sliders.filter(({ id, value }) => this.values[id] !== value);
    return Object.fromEntries(
      moved.map(({ id }) => [`${this.step.id}.${id}`, String(Number(this.values[id]!.toPrecision(6)))]),
    );
  }

  write(state: Readonly<Record<string, string>>): void {
    for (const slider of this.sliders) {
      const value = Number(state[`${this.step.id}.${slider.id}`] ?? Number.NaN);
      const within = value >= slider.min && value <= slider.max;
      this.move(slider, within ? value : slider.value);
    }
  }

  onChange(listener: () => void): void {
    this.changed = listener;
  }

  private show(): void {
    const shown = this.step.show(this.lesson, this.values);
    shown.figures.forEach(({ figure, input }, index) => {
      const { draw } = FIGURES[figure];
      this.stage.show(figureId(this.step.id, index), (frame) => draw(input as never, frame));
    });
    this.root.querySelector('.values')!.innerHTML = factsHtml(shown).text;
    const mills = this.root.querySelector('.mills');
    if (mills && shown.table) mills.innerHTML = tableHtml(shown.table, this.step.title).text;
  }
}

const read = (id: string) => readPlainData(byId(id)!.textContent!) as Scenario;
const lesson = lessonOn(read('data'), byId('demo') ? read('demo') : undefined);
const stage = new Stage();
const views = STEPS.map((step) => new StepView(stage, lesson, step));
const stand = new Presenter(
  STEPS.map(({ id }) => id),
  (k) => views[k]!.reset(),
);
new AddressState([...views, stand]);
document.documentElement.dataset.ready = 'true';
