import { createHash } from 'node:crypto';
import { designNamed } from '../../scenario/design/designs.ts';
import type { Study } from '../study/study.ts';
import { writePlainData } from './plain-data.ts';

/**
 * What decides the rows of a study: scenario without its text and remarks, design, columns kept, program version. A
 * design that can be extended leaves its number of points out, and a list counts by its points, not by its file. Of a grade
 * its spec counts.
 */
function deciding(study: Study, version: string): Readonly<Record<string, unknown>> {
  const { text, job, logo, provenance, sweep, powder, title, warnings, proposed, goal, grades, ...rest } =
    study.scenario;
  const scenario = grades ? { ...rest, grades: specsOf(grades) } : rest;
  const { points, file, ...plan } = study.plan;
  const design = designNamed(plan.design).extends || points === undefined ? plan : { ...plan, points };
  const { quantities, curves, lawModules } = study;
  return { scenario, design, quantities, curves, ...(lawModules ? { lawModules } : {}), version };
}

function specsOf(grades: NonNullable<Study['scenario']['grades']>): Readonly<Record<string, unknown>> {
  return Object.fromEntries(Object.entries(grades).map(([name, { spec }]) => [name, spec]));
}

/** Content hash of scenario, design and program version, hexadecimal SHA-256. */
export function studyHash(study: Study, version: string): string {
  return createHash('sha256')
    .update(writePlainData(deciding(study, version)))
    .digest('hex');
}

/** Where two studies differ, e.g. `scenario.settings.feedRate: 0.0833 here, 0.0556 in the store`; at most five. */
export function differences(
  here: Study,
  version: string,
  stored: Study,
  storedVersion: string,
): readonly string[] {
  const found: string[] = [];
  compare('', deciding(here, version), deciding(stored, storedVersion), found);
  return found;
}

const SHOWN = 5;

function compare(place: string, a: unknown, b: unknown, found: string[]): void {
  if (found.length >= SHOWN) return;
  if (isTree(a) && isTree(b)) {
    for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) {
      compare(place === '' ? key : `${place}.${key}`, a[key], b[key], found);
    }
  } else if (writePlainData([a]) !== writePlainData([b])) {
    found.push(`${place}: ${brief(a)} here, ${brief(b)} in the store`);
  }
}

function isTree(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function brief(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = writePlainData(value);
  return text.length > 40 ? `${text.slice(0, 39)}…` : text;
}
