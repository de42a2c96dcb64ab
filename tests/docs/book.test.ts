import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { cellsOf } from '../../src/cli/notebook-cells.ts';
import { LOOP } from '../../src/model/parameters/loop.ts';
import { ROTOR_COEFFICIENTS } from '../../src/model/parameters/rotor-parameters.ts';
import { WHEEL_COEFFICIENTS } from '../../src/model/parameters/wheel-parameters.ts';
import { theModel } from '../../src/model/sources.ts';

const PAGES = ['the-model', 'around-the-mill'];
const pages = new Map(PAGES.map((name) => [name, readFileSync(`notebooks/${name}.md`, 'utf8')]));
const outside = readFileSync('notebooks/checked-from-outside.md', 'utf8');
const HEADING = /^<a id="eq-(\w+)"><\/a>\n### Eq\. (\w+): /gm;
/** Solutions of the balance in closed form: they test the program and are no part of it. */
const ONLY_TESTED = /^V\d$/;

/** Numbers of the equations of a page, in order. */
function equationsOf(text: string): string[] {
  return [...text.matchAll(HEADING)].map(([, , number]) => number!);
}
const book = [...pages.values()].flatMap(equationsOf);

/** "eq. 7", "eq. 16, 17 and 18", "eq. P11 to P15": the numbers cited in a text. */
function cited(text: string): string[] {
  const one = '[A-Z]?\\d+[a-z]?';
  const list = new RegExp(`\\beqs?\\. (${one}(?:(?:, | and | to |–)${one})*)`, 'gi');
  return [...text.matchAll(list)].flatMap(([, numbers]) =>
    numbers!.split(/, | and /).flatMap((part) => {
      const [from, to] = part.split(/ to |–/);
      return to === undefined ? [from!] : between(from!, to);
    }),
  );
}

/** All numbers of the book from one to another, ends included; both themselves where one is not in it. */
function between(from: string, to: string): string[] {
  const [first, last] = [book.indexOf(from), book.indexOf(to)];
  return first < 0 || last < first ? [from, to] : book.slice(first, last + 1);
}

const sourcesIn = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !file.includes('docs/book.test'))
    .map((file) => ({ file: join(folder, file), text: readFileSync(join(folder, file), 'utf8') }));
const code = sourcesIn('src');
const tests = sourcesIn('tests');
const citedBy = (files: typeof code) => new Set(files.flatMap(({ text }) => cited(text)));
const byCode = citedBy(code);
const byTests = citedBy(tests);

describe('the book of equations', () => {
  test('numbers each equation once, and its anchor is its number', () => {
    expect(book.length).toBeGreaterThan(70);
    expect(new Set(book).size).toBe(book.length);
    for (const text of pages.values())
      for (const [, anchor, number] of text.matchAll(HEADING)) expect(anchor).toBe(number!.toLowerCase());
    for (let number = 1; number <= 28; number++) expect(book).toContain(String(number));
  });
  test('every number cited by code or by a test is in it', () => {
    const unknown = [...code, ...tests].flatMap(({ file, text }) =>
      cited(text)
        .filter((number) => !book.includes(number))
        .map((number) => `${file}: eq. ${number}`),
    );
    expect(unknown).toEqual([]);
  });
  test.each(book)('eq. %s is cited by code, by a test, and evaluated in a cell of its page', (number) => {
    if (!ONLY_TESTED.test(number)) expect(byCode.has(number), `no code cites eq. ${number}`).toBe(true);
    expect(byTests.has(number), `no test cites eq. ${number}`).toBe(true);
    const [, text] = [...pages].find(([, page]) => equationsOf(page).includes(number))!;
    const evaluated = cellsOf(text).some(({ output = '' }) =>
      `\n${output}`.includes(`\neq. ${number.padEnd(4)} `),
    );
    expect(evaluated, `no cell of the page evaluates eq. ${number}`).toBe(true);
  });
  test('citations of several numbers are read', () => {
    expect(cited('(eq. 16, 17 and 18b) of eq. 24a–25')).toEqual(['16', '17', '18b', '24a', '24b', '25']);
    expect(cited('eq. P11 to P13, then')).toEqual(['P11', 'P12', 'P13']);
  });
});

describe('links of the pages', () => {
  const all = readdirSync('notebooks')
    .filter((file) => file.endsWith('.md'))
    .map((file) => [file, readFileSync(`notebooks/${file}`, 'utf8')] as const);
  /** Anchors of a page: its own, and those of its headings as a repository page makes them. */
  const anchorsOf = (text: string) =>
    new Set([
      ...[...text.matchAll(/<a id="([^"]+)">/g)].map(([, id]) => id!),
      ...[...text.matchAll(/^#+ (.+)$/gm)].map(([, title]) =>
        title!
          .toLowerCase()
          .replace(/[^\p{L}\p{N} _-]/gu, '')
          .replaceAll(' ', '-'),
      ),
    ]);
  const front = ['README.md', 'DEVELOPERS.md'].map(
    (file) => [`../${file}`, readFileSync(file, 'utf8')] as const,
  );
  test('every file that DEVELOPERS.md names by its path is there', () => {
    for (const [, path] of front[1]![1].matchAll(/`([\w.-]+\/[\w./-]+\.(?:ts|test\.ts))`/g)) {
      // the recipes name the files they add
      if (/\/(parabola|frechet|corners|returned)\.ts$/.test(path!)) continue;
      expect(existsSync(path!) || existsSync(join('src', path!)), `DEVELOPERS.md names ${path}`).toBe(true);
    }
  });
  test.each([...all, ...front])('%s: every file and every anchor it links to is there', (page, text) => {
    for (const [, target] of text.matchAll(/\]\(([^)\s]+)\)/g)) {
      if (/^[a-z]+:/.test(target!)) continue;
      const [file, anchor] = target!.split('#');
      const path = file ? join(dirname(join('notebooks', page)), file) : join('notebooks', page);
      expect(existsSync(path), `${page} links to ${target}`).toBe(true);
      if (anchor) expect([...anchorsOf(readFileSync(path, 'utf8'))], `${page}: ${target}`).toContain(anchor);
    }
  });
});

describe('what a reader is referred to', () => {
  test('is in the repository: no text names a chapter of another document', () => {
    for (const { file, text } of [...code, ...tests]) {
      expect(text, file).not.toMatch(/physics(\.md)? section|physics of the model, section|\(section \d/i);
      for (const [, path] of text.matchAll(/(notebooks\/[\w-]+\.md)/g)) {
        const known = existsSync(path!) || /\$\{/.test(path!);
        expect(known, `${file} names ${path}`).toBe(true);
      }
    }
  });
  test('an equation is named with a link that leads to it', () => {
    for (const number of equationsOf(pages.get('the-model')!)) {
      const [, path, anchor] = /\(([^#]+)#([\w-]+)\)/.exec(theModel(number))!;
      expect(readFileSync(path!, 'utf8')).toContain(`<a id="${anchor}"></a>`);
      expect(cited(theModel(number))).toEqual([number]);
    }
    for (const { file, text } of code)
      for (const [, number] of text.matchAll(/theModel\('(\w+)'\)/g))
        expect(book, `${file} names eq. ${number}`).toContain(number);
  });
  test('the source of every preset of the mill leads to its equation', () => {
    const presets = [ROTOR_COEFFICIENTS, WHEEL_COEFFICIENTS, LOOP].flat().flatMap(({ name, preset }) => {
      return preset ? [{ name, source: preset.source }] : [];
    });
    expect(presets.length).toBeGreaterThan(20);
    for (const { name, source } of presets) {
      const [number] = cited(source);
      expect(book, `${name}: ${source}`).toContain(number);
      expect(source).toContain(theModel(number!));
    }
  });
  test('rows of published and hand values that tests name are listed with their source', () => {
    const listed = new Set<string>();
    for (const [, ids] of outside.matchAll(/^\| ([A-Z]\d[^|]*) \|/gm)) {
      for (const part of ids!.split(', ')) {
        const [from, to = from] = part.trim().split(' to ');
        for (let n = Number(from!.slice(1)); n <= Number(to!.slice(1)); n++) listed.add(`${from![0]}${n}`);
      }
    }
    for (const { file, text } of tests)
      for (const [, id] of text.matchAll(/test\(\s*'([A-HRTWX]\d)\b/g))
        expect(listed, `${file}: row ${id}`).toContain(id);
  });
});
