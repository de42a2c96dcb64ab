import type { Scenario } from '../../scenario/scenario.ts';
import { readPlainData } from '../../sweep/store/plain-data.ts';
import { FIGURES } from '../figures/index.ts';
import { lessonOn } from '../lesson/lesson.ts';
import { factsHtml, figureId, startOf, valueOfHand } from '../lesson/readings-panel.ts';
import type { Lesson, LessonSlider, LessonStep, Values } from '../lesson/step.ts';
import { STEPS } from '../lesson/steps.ts';
import { byId } from './dom.ts';
import { Stage } from './stage.ts';

/** A step computed again by the model as its sliders move; first when it comes near, so that the page opens at once. */
class StepView {
  private readonly stage: Stage;
  private readonly lesson: Lesson;
  private readonly step: LessonStep;
  private readonly root: HTMLElement;
  private values: Values;
  private waiting = 0;

  constructor(stage: Stage, lesson: Lesson, step: LessonStep) {
    this.stage = stage;
    this.lesson = lesson;
    this.step = step;
    this.root = document.querySelector<HTMLElement>(`[data-step="${step.id}"]`)!;
    this.values = startOf(step.sliders);
    for (const slider of step.sliders) this.listen(slider);
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
    const input = this.root.querySelector<HTMLInputElement>(`[data-slider="${slider.id}"]`)!;
    const output = this.root.querySelector<HTMLElement>(`output[for="${input.id}"]`)!;
    input.addEventListener('input', () => {
      const value = valueOfHand(slider, Number(input.value));
      const text = `${Number(value.toPrecision(4))} ${slider.unit}`.trim();
      output.textContent = text;
      input.setAttribute('aria-valuetext', text);
      this.values = { ...this.values, [slider.id]: value };
      cancelAnimationFrame(this.waiting);
      this.waiting = requestAnimationFrame(() => this.show());
    });
  }

  private show(): void {
    const shown = this.step.show(this.lesson, this.values);
    shown.figures.forEach(({ figure, input }, index) => {
      const { draw } = FIGURES[figure];
      this.stage.show(figureId(this.step.id, index), (frame) => draw(input as never, frame));
    });
    this.root.querySelector('.values')!.innerHTML = factsHtml(shown).text;
  }
}

const lesson = lessonOn(readPlainData(byId('data')!.textContent!) as Scenario);
const stage = new Stage();
for (const step of STEPS) new StepView(stage, lesson, step);
document.documentElement.dataset.ready = 'true';
