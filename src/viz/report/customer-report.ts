import {
  type CustomerSource,
  customerDocument,
  customerGradesSections,
} from '../../answers/customer/customer-document.ts';
import { footWords, headFacts } from '../../answers/customer/job-fields.ts';
import type { AnswerDocument, Section } from '../../answers/document.ts';
import { dustWords } from '../../answers/dust-words.ts';
import { sourceWords } from '../../answers/figure-source.ts';
import { words } from '../../answers/text.ts';
import { FIGURES, type FigureName } from '../figures/index.ts';
import { sectionHtml } from '../html/answer-body.ts';
import { type Html, html, lowered } from '../html/template.ts';
import type { ReportParts } from './parts.ts';

/** Longest title and fact shown whole. */
const LONGEST = 200;

/** A customer's document as a page without any script: what is drawn is all that is in the file. */
export function customerReport(
  source: CustomerSource,
  json: ReportParts['json'],
  { version, date }: { readonly version: string; readonly date: string },
): ReportParts {
  const { sections, cautions } = customerDocument(source);
  return customerPage(source, sections, cautions, json, { version, date });
}

/** The page of a visit that made several grades, for a customer. */
export function customerGradesReport(
  source: Pick<CustomerSource, 'scenario' | 'trials' | 'operator'>,
  document: AnswerDocument,
  made: { readonly version: string; readonly date: string },
): ReportParts {
  return customerPage(
    source,
    customerGradesSections(source, document),
    [...document.cautions, dustWords(source.scenario)],
    undefined,
    made,
  );
}

function customerPage(
  { scenario, operator }: Pick<CustomerSource, 'scenario' | 'operator'>,
  sections: readonly Section[],
  cautions: readonly string[],
  json: ReportParts['json'],
  { version, date }: { readonly version: string; readonly date: string },
): ReportParts {
  const { title, job, logo } = scenario;
  const facts: [string, string][] = [...headFacts(job, operator), ['date', date]];
  const figures = sections.flatMap(({ figures: own = [] }) => own);
  return {
    title,
    still: true,
    foot: footWords(job),
    body: html`<header class="letter">${logo === undefined ? undefined : html`<img class="logo" src="${logo}" alt="${words(job.centre ?? 'logo', LONGEST)}">`}
<h1><bdi>${words(title, LONGEST)}</bdi></h1>
${factsHtml(facts)}</header>
<main class="document customer">${sections.map(sectionHtml)}
<section id="cautions"><h2>Cautions</h2>${cautions.map((line) => html`<p class="danger">${lowered(line)}</p>`)}</section>
<p class="state">Made with grindloop ${version}.</p></main>`,
    data: { controls: [], file: {}, position: {}, marks: [], words: {}, chokedBecause: '', stills: [] },
    ...(json ? { json } : {}),
    offer: {
      figures: figures
        .filter(({ figure }) => figure in FIGURES)
        .map(({ id, title: name, figure, data }) => ({
          id,
          title: name,
          figure: figure as FigureName,
          input: data,
        })),
      source: sourceWords(scenario, title),
    },
  };
}

function factsHtml(facts: readonly (readonly [string, string])[]): Html {
  return html`<dl class="facts">${facts.map(([name, value]) => html`<div><dt><bdi>${words(name, 40)}</bdi></dt><dd><bdi>${words(value, LONGEST)}</bdi></dd></div>`)}</dl>`;
}
