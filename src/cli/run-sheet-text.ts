import { BLANK, type RunPlan, type RunSheet } from '../answers/next/run-sheet-content.ts';
import { textTable } from '../answers/text-table.ts';

/** A run sheet as text, to be printed or kept beside the trial log. */
export function sheetText({ title, headline, asked, at, plan, cautions }: RunSheet): string {
  const lines = [title, '', ...headline, '', `Required: ${asked}`, `at        ${at}`, ''];
  if (plan) lines.push(...planLines(plan));
  return [...lines, ...cautions, ''].join('\n');
}

function planLines({ boxes, airFlow, emptyAt, settings, readings, settles, stopRules }: RunPlan): string[] {
  const head = boxes.map((name) => `${name} ${BLANK}`).join('  ');
  return [
    `RUN SHEET   ${head}  air flow ${airFlow} read ${BLANK}`,
    '',
    `empty  no feed, warm up, then at rotor ${emptyAt.join(', ')} rpm write: kW ${emptyAt.map(() => BLANK).join(' ')}  amps ${BLANK}  out °C ${BLANK}`,
    textTable([settings.heads, ...settings.rows]),
    '',
    textTable([readings.heads, ...readings.rows]),
    '',
    ...settles,
    '',
    ...stopRules,
    '',
  ];
}
