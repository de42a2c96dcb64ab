import type { ReportParts } from '../report/parts.ts';
import { reportDocument } from '../report/report-document.ts';
import { bundleText, plottingText } from './bundles.ts';
import { documentText } from './document.ts';

/** A report as one HTML file. */
export function reportText(parts: ReportParts): string {
  return documentText(
    reportDocument(parts, {
      style: bundleText('page.css'),
      script: bundleText('report.js'),
      worker: () => bundleText('worker.js'),
      plotting: plottingText,
    }),
  );
}
