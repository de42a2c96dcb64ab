import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { grindloop } from '../program.ts';
import { demoPages } from './every-page.ts';
import { demo } from './sweep-page.ts';

/** Words of a page without its styles, scripts and data. */
function wordsOf(page: string): string {
  return page
    .replace(/<(style|script)[^>]*>[\s\S]*?<\/\1>/g, ' ')
    .replace(/<\/?sub>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ');
}

/** What every page and sheet says that someone may act on. */
const CAUTIONS = [
  /screening only/i,
  /dust, rotating parts and vents can kill/i,
  /test your own dust/i,
  /local codes and licensed practice decide/i,
  /missing data is an unknown hazard/i,
];

function isHonest(words: string): void {
  for (const caution of CAUTIONS) expect(words).toMatch(caution);
  expect(words).not.toMatch(/guaranteed|guarantees\b/i);
  // nothing is called safe: the word stands only where it is denied
  expect(words.replace(/never (?:a )?safe(?: one)?/gi, '')).not.toMatch(
    /\b(?:is|are|be|runs?) (?:un)?safe\b|\bno (?:hazard|risk|danger)\b/i,
  );
}

describe('pages', () => {
  let pages: Record<string, string>;
  beforeAll(async () => {
    pages = await demoPages();
  }, 120_000);

  test('all carry their caution, promise nothing and call nothing safe', () => {
    expect(Object.keys(pages).length).toBeGreaterThanOrEqual(9);
    for (const page of Object.values(pages)) isHonest(wordsOf(page));
  });
  test('dust nobody tested is an unknown hazard, value by value', () => {
    for (const kind of [
      'sweep',
      'sweep with trials',
      'sweep for a customer',
      'run',
      'run for a customer',
      'comparison',
    ]) {
      const words = wordsOf(pages[kind]!);
      expect(words, kind).toMatch(
        /how this dust burns: KSt, pmax, LEL, MIE, MIT, LIT, LOC are an unknown hazard/,
      );
      expect(words, kind).toMatch(/Treat it as explosible until/);
    }
  });
  test('the answer says what it relies on, before any figure', () => {
    for (const kind of ['sweep', 'sweep with trials', 'run', 'comparison']) {
      const first = wordsOf(pages[kind]!.slice(0, pages[kind]!.indexOf('<figure')));
      expect(first, kind).toMatch(/Uncalibrated estimate, for planning a first trial:/);
      expect(first, kind).toMatch(
        /relies on \d+ coefficients not confirmed by any trial; of these, [a-z\d µ]+ depends most on [a-z ]+ [\d.]+.* and [a-z ]+ [\d.]+/,
      );
    }
    for (const kind of ['sweep for a customer', 'run for a customer']) {
      const first = wordsOf(pages[kind]!.slice(0, pages[kind]!.indexOf('<figure')));
      expect(first, kind).toMatch(/Uncalibrated estimate.*breakage, cut and sharpness that are assumed/);
    }
  });
  test('some of the dust tested leaves the rest unknown', async () => {
    const { cautionsSection } = await import('../../src/viz/report/sections/cautions.ts');
    const scenario = await demo(['plant.dust.kst=120 bar m/s']);
    expect(wordsOf(cautionsSection([], scenario).text)).toMatch(
      /Not stated of this dust: pmax, LEL, MIE, MIT, LIT, LOC are an unknown hazard/,
    );
  });
});

describe('sheets of the command line', () => {
  const file = resolve('scenarios/erythritol.yaml');
  test.each<string[]>([
    ['check'],
    ['run'],
    ['compare'],
    ['find'],
    ['next', '--here', '--trials', '1'],
    ['plant'],
    ['plant', '--safety'],
    ['time'],
    ['scale', '--to', 'production-600'],
  ])('%s carries its caution', async (command, ...options) => {
    const { out } = await grindloop(command!, file, ...options);
    isHonest(out.replace(/\s+/g, ' '));
  });
});
