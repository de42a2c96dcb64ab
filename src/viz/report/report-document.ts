import type { DocumentParts } from '../html/document-text.ts';
import { pageFoot } from '../html/page-foot.ts';
import type { ReportParts } from './parts.ts';
import { plainJson } from './plain.ts';

/** Scripts and style a report carries, as built. */
interface ReportBundles {
  readonly style: string;
  /** The page's own script. */
  readonly script: string;
  /** The model's worker; asked for where the report is live. */
  readonly worker: () => string;
  /** The plotting library; asked for where a surface can turn. */
  readonly plotting: () => string;
}

/** A report as the parts of one HTML file; the model goes in only where it is live, the plotting library where a surface can turn. */
export function reportDocument(
  { title, body, data, still, foot = '' }: ReportParts,
  bundles: ReportBundles,
): DocumentParts {
  const style = bundles.style + pageFoot(foot);
  if (still) return { title, body, style, data: {}, texts: {}, scripts: [] };
  return {
    title,
    body,
    style,
    data: { data: reportJsonData(data) },
    texts: data.live ? { model: bundles.worker() } : {},
    scripts: [bundles.script],
    ...(data.solid ? { packed: { plotly: bundles.plotting() } } : {}),
  };
}

/** Digits of a number a figure is drawn from. */
const DIGITS = 7;

/** What a report's script works from, as text. */
function reportJsonData(data: ReportParts['data']): string {
  return plainJson(plainNumbers(data));
}

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
