import { deskBody } from '../desk/body.ts';
import { OWN_STYLE } from '../desk/own-style.ts';
import { bundleText } from './bundles.ts';
import { documentText, scriptHash } from './document.ts';

/** What a desk is opened on. */
interface DeskStartUp {
  readonly version: string;
  /** Text of the case shown at first. */
  readonly text: string;
  /** Texts of the catalogue by entry. */
  readonly shelf: Readonly<Record<string, string>>;
}

/** The whole tool as one HTML file. */
export function deskText({ version, text, shelf }: DeskStartUp): string {
  const report = bundleText('report.js');
  return documentText({
    title: 'grindloop desk',
    body: deskBody(),
    style: `${bundleText('page.css')}${OWN_STYLE}${bundleText('desk.css')}`,
    data: { data: JSON.stringify({ version, text, shelf, reportHash: scriptHash(report) }) },
    texts: {
      model: bundleText('desk-worker.js'),
      'sheet-style': bundleText('run-sheet.css'),
      // what the reports it writes carry
      'report-script': report,
      'report-model': bundleText('worker.js'),
    },
    scripts: [bundleText('desk.js')],
  });
}
