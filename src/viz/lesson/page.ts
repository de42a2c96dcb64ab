import { label, together, words } from '../../answers/text.ts';
import { FIGURES } from '../figures/index.ts';
import { figureHtml, tableHtml } from '../html/figure.ts';
import { type Html, html } from '../html/template.ts';
import { cautionsSection } from '../report/sections/cautions.ts';
import { wheelDrawings } from './drawings.ts';
import { KEYS } from './keys.ts';
import { factsHtml, figureId, HAND_STEPS, handOf, startOf } from './readings-panel.ts';
import type { Lesson, LessonSlider, LessonStep, StepFigure } from './step.ts';
import { STEPS } from './steps.ts';
import { filledTable, worksheet } from './worksheet.ts';

/** For whom: students get no answers in the file, who teaches gets notes, and both a sheet to print. */
export type Reader = 'all' | 'student' | 'teacher';

export const LESSON_TITLE = 'How sending back the coarse narrows the product';
const WIDTH = 800;

/** Body of the lesson, drawn at the values the sliders start from. */
export function lessonBody(lesson: Lesson, reader: Reader): Html {
  const links = STEPS.map(({ id, title }, k) => html`<a href="#${id}">${number(k)} ${title}</a>`);
  return html`<a class="skip" href="#${STEPS[0]!.id}">To the first step</a>
<header><h1>${LESSON_TITLE}</h1>
<p>An impact mill with a wheel that sends the coarse back, in seven steps and one more. Move the sliders, answer the question, go on. Every number comes from the model, run here as you move. ${machineWords(lesson)}</p>
<nav aria-label="Steps">${links}</nav>
<p class="keys">Keys: → next step, ← previous, F full screen, R reset the step.</p></header>
<main class="lesson">${STEPS.map((step, k) => stepHtml(lesson, step, k, reader))}
${reader === 'all' ? undefined : worksheet(lesson)}
${reader === 'teacher' ? answers(lesson) : undefined}
${cautionsSection([])}</main>
<aside class="present" aria-label="Steps of the lecture" hidden><button type="button" data-go="-1">Previous</button><span class="where"></span><button type="button" data-go="1">Next</button><button type="button" data-reset>Reset step</button><button type="button" data-full>Full screen</button></aside>`;
}

/** Which mill and powder the numbers are of. */
function machineWords({ scenario }: Lesson): string {
  const { components, machine, title } = scenario;
  const material = components[0]!.material.name;
  const named = `Powder: ${label(material)}; machine: ${label(machine.name)}`;
  return title ? `${words(title, 120)}. ${named}.` : `${named}.`;
}

/** The extra step is no eighth. */
function number(k: number): string {
  return k < 7 ? `${k + 1}.` : '7½.';
}

function stepHtml(lesson: Lesson, step: LessonStep, k: number, reader: Reader): Html {
  const sliders = step.sliders(lesson);
  const shown = step.show(lesson, startOf(sliders));
  const { answer, notes } = KEYS[step.id]!;
  return html`<section class="step" id="${step.id}" data-step="${step.id}">
<h2>${number(k)} ${step.title}</h2>
${step.say(lesson).map((each) => html`<p>${together(each)}</p>`)}
${step.id === 'which-wheel' ? wheelDrawings(lesson.scenario) : undefined}
<div class="hand"><div class="figures">${shown.figures.map((figure, i) => stepFigure(step, figure, i))}</div>
<div class="side"><div class="sliders">${sliders.map((slider) => sliderHtml(step, slider))}</div>
<dl class="values">${factsHtml(shown)}</dl>${shown.table && html`<div class="mills">${tableHtml(shown.table, step.title)}</div>`}</div></div>
<p class="question"><strong>${together(step.question(lesson))}</strong></p>
${reader === 'student' ? undefined : html`<details><summary>Answer</summary><p>${together(answer(lesson))}</p></details>`}
${reader === 'teacher' ? html`<p class="notes"><strong>For who teaches.</strong> ${together(notes)}</p>` : undefined}
</section>`;
}

function stepFigure(step: LessonStep, { figure, input }: StepFigure, index: number): Html {
  const { draw } = FIGURES[figure];
  return figureHtml(figureId(step.id, index), undefined, (frame) => draw(input as never, frame), WIDTH);
}

function sliderHtml(step: LessonStep, slider: LessonSlider): Html {
  const { id, name, unit, min, max, value, ratio } = slider;
  const input = `${step.id}-${id}`;
  const [from, to, by] = ratio ? [0, HAND_STEPS, 'any'] : [min, max, slider.step];
  return html`<div class="field"><label for="${input}"><span>${name}</span><output for="${input}">${value} ${unit}</output></label>
<input type="range" id="${input}" data-slider="${id}" min="${from}" max="${to}" step="${by}" value="${handOf(slider, value)}"></div>`;
}

/** The answers on their own sheets, with the worksheet's tables filled in. */
function answers(lesson: Lesson): Html {
  return html`<section class="sheet" id="answers"><h2>Answers</h2><ol>${STEPS.map(({ id }) => html`<li><p>${together(KEYS[id]!.answer(lesson))}</p>${filledTable(lesson, id)}</li>`)}</ol></section>`;
}
