import { pageFoot } from '../html/page-foot.ts';
import type { ReportParts } from '../report/parts.ts';
import { plainJson } from '../report/plain.ts';
import { bundleText, plottingText } from './bundles.ts';
import { documentText } from './document.ts';

/** A report as one HTML file; the model goes in only where it is live, the plotting library where a surface can turn. */
export function reportText({ title, body, data, still, foot = '' }: ReportParts): string {
  const style = bundleText('page.css') + pageFoot(foot);
  if (still) return documentText({ title, body, style, data: {}, texts: {}, scripts: [] });
  return documentText({
    title,
    body,
    style,
    data: { data: plainJson(plainNumbers(data)) },
    texts: data.live ? { model: bundleText('worker.js') } : {},
    scripts: [bundleText('report.js')],
    ...(data.solid ? { packed: { plotly: plottingText() } } : {}),
  });
}

/** Digits of a number a figure is drawn from. */
const DIGITS = 7;

/** Data with typed arrays as lists, and numbers in lists as short as the eye can tell. */
function plainNumbers(value: unknown): unknown {
  if (ArrayBuffer.isView(value) || (Array.isArray(value) && value.length > 16)) {
    return Array.from(value as ArrayLike<unknown>, (each) =>
      typeof each === 'number' ? Number(each.toPrecision(DIGITS)) : plainNumbers(each),
    );
  }
  if (Array.isArray(value)) return value.map(plainNumbers);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, plainNumbers(each)]));
}
