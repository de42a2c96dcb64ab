import { together } from '../../answers/text.ts';
import { tableHtml } from '../html/figure.ts';
import { type Html, html } from '../html/template.ts';
import { passByPass } from './batch.ts';
import { round, run, said, speedsOf, text } from './mill.ts';
import type { Lesson } from './step.ts';
import { looked, once, three } from './steps/equal-fineness.ts';
import { brokenOf, dustOf } from './steps/one-hit.ts';
import { PASSES, topEdge } from './steps/send-back.ts';
import { slippedAt, wheelRange } from './steps/slips-past.ts';
import { around } from './steps/too-much.ts';
import { trimmed } from './steps/top-and-rest.ts';
import { cutsAt, speedRange } from './steps/which-wheel.ts';
import { STEPS } from './steps.ts';

/** What is read off a step: columns that are given, then columns to fill in. */
interface SheetTable {
  readonly heads: readonly string[];
  readonly given: number;
  readonly rows: readonly (readonly string[])[];
}

const percent = (share: number | undefined) => (share === undefined ? 'chokes' : text(share, 2));

/** The model's own numbers for each step's table; a step without one has room for words only. */
export const SHEET_TABLES: Readonly<Record<string, (lesson: Lesson) => SheetTable>> = {
  'one-hit': (lesson) => {
    const rotor = round(speedsOf(lesson.scenario).rotor);
    const cases = [
      [rotor, 500],
      [round(rotor * 0.5), 500],
      [rotor, 250],
    ] as const;
    return {
      heads: ['rotor speed, rpm', 'size, µm', 'broken, %', 'below 10 µm, %'],
      given: 2,
      rows: cases.map(([speed, size]) => {
        const values = { rotor: speed, size };
        return [`${speed}`, `${size}`, text(brokenOf(lesson, values), 2), text(dustOf(lesson, values), 2)];
      }),
    };
  },
  'send-back': (lesson) => {
    const batch = passByPass(lesson.scenario, PASSES)!;
    return {
      heads: ['passes', '95 % of what has left lies below, µm'],
      given: 1,
      rows: [3, 10, 30, PASSES].map((pass) => [`${pass}`, text(topEdge(batch, pass))]),
    };
  },
  'equal-fineness': (lesson) => ({
    heads: ['mill', 'below 10 µm, %', 'net energy, kWh/t', 'passes'],
    given: 1,
    rows: [
      ['once through', ...three(once(lesson))],
      ['four times the hits', ...three(looked(lesson, 4))],
      ['half the hits', ...three(looked(lesson, 0.5))],
      ['wheel inside', ...three(run(lesson.scenario))],
    ],
  }),
  'top-and-rest': (lesson) => {
    const rotor = round(speedsOf(lesson.scenario).rotor);
    return {
      heads: ['rotor speed, rpm', 'wheel speed for the first x95', 'x10', 'passes'],
      given: 1,
      rows: [rotor, round(rotor * 0.87)].map((speed) => {
        const solved = trimmed(lesson, speed);
        const each = (name: string) => (solved ? said(solved, name) : 'not reached');
        return [`${speed}`, each('wheelSpeed'), each('x10'), each('passes')];
      }),
    };
  },
  'which-wheel': (lesson) => {
    const { min, max } = speedRange(lesson);
    const speed = round((min + max) / 2);
    return {
      heads: ['wheel speed, rpm', 'finest wheel', 'its cut', 'air drawn in'],
      given: 1,
      rows: [min, speed, max].map((each) => {
        const finest = cutsAt(lesson, each)[0];
        if (!finest) return [`${each}`, 'all choke', '–', '–'];
        const { name, solved } = finest;
        return [`${each}`, name, said(solved, 'cutSize'), said(solved, 'radialVelocity')];
      }),
    };
  },
  'too-much': (lesson) => ({
    heads: ['feed, kg/h', 'runs at, kg/h', 'tips at, kg/h'],
    given: 1,
    rows: [200, 240, 280].map((feed) => {
      const { runsAt, tipsAt } = around(lesson, feed);
      const cell = (flow: number | undefined) => (flow === undefined ? 'none' : text(flow));
      return [`${feed}`, cell(runsAt), cell(tipsAt)];
    }),
  }),
  'slips-past': (lesson) => {
    const { min, max } = wheelRange(lesson);
    return {
      heads: ['wheel speed, rpm', 'above 150 µm at 1 ‰, %'],
      given: 1,
      rows: [min, max].map((speed) => [`${speed}`, percent(slippedAt(lesson, 1, speed))]),
    };
  },
};

/** Questions with the tables to fill in, their first row filled as an example, and lines to write on. */
export function worksheet(lesson: Lesson): Html {
  return html`<section class="sheet" id="worksheet"><h2>Worksheet</h2><p>Set the sliders to the numbers given, read off what is missing. The first row is done.</p><ol>${STEPS.map(
    ({ id, question }) => {
      const table = SHEET_TABLES[id]?.(lesson);
      const rows = table?.rows.map((row, k) =>
        row.map((cell, c) => (k === 0 || c < table.given ? cell : '')),
      );
      return html`<li><p>${together(question(lesson))}</p>${table && tableHtml({ heads: table.heads, rows: rows! }, `Table of step ${id}`)}<div class="line"></div><div class="line"></div></li>`;
    },
  )}</ol></section>`;
}

/** The worksheet's tables filled in. */
export function filledTable(lesson: Lesson, id: string): Html | undefined {
  const table = SHEET_TABLES[id]?.(lesson);
  return table && tableHtml(table);
}
