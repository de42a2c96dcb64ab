import type { RunSheet } from '../../answers/next/run-sheet-content.ts';
import { runSheetBody } from '../run-sheet/page.ts';
import { bundleText } from './bundles.ts';
import { documentText } from './document.ts';

/** A run sheet as one HTML file without any script. */
export function runSheetText(sheet: RunSheet): string {
  return documentText({
    title: sheet.title,
    body: runSheetBody(sheet),
    style: bundleText('page.css') + bundleText('run-sheet.css'),
    data: {},
    texts: {},
    scripts: [],
  });
}
