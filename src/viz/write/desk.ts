import { deskBody } from '../desk/body.ts';
import { bundleText } from './bundles.ts';
import { documentText } from './document.ts';

/** What a desk is opened on. */
export interface DeskStartUp {
  readonly version: string;
  /** Text of the case shown at first. */
  readonly text: string;
  /** Texts of the catalogue by entry. */
  readonly shelf: Readonly<Record<string, string>>;
}

/** The whole tool as one HTML file. */
export function deskText({ version, text, shelf }: DeskStartUp): string {
  return documentText({
    title: 'grindloop desk',
    body: deskBody(),
    style: `${bundleText('page.css')}${bundleText('desk.css')}`,
    data: { data: JSON.stringify({ version, text, shelf }) },
    texts: { model: bundleText('desk-worker.js'), 'sheet-style': bundleText('run-sheet.css') },
    scripts: [bundleText('desk.js')],
  });
}
