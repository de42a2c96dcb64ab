import { deflateRawSync } from 'node:zlib';
import { writePlainData } from '../../sweep/store/plain-data.ts';
import type { Deflate } from '../report/pack-sweep.ts';
import type { ReportParts } from '../report/parts.ts';
import { bundleText, plottingText } from './bundles.ts';
import { documentText } from './document.ts';

export const deflate: Deflate = (bytes) =>
  Buffer.from(deflateRawSync(bytes, { level: 9 })).toString('base64');

/** A report as one HTML file; the model goes in only where the report is live. */
export function reportText({ title, body, data }: ReportParts): string {
  return documentText({
    title,
    body,
    style: bundleText('page.css'),
    data: { data: writePlainData(data) },
    texts: data.live ? { model: bundleText('worker.js') } : {},
    scripts: [plottingText(), bundleText('report.js')],
  });
}
