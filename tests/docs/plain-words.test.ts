import { readdirSync, readFileSync } from 'node:fs';
import { transformSync } from 'esbuild';
import { expect, test } from 'vitest';

/** Idioms a reader whose first language is another has to translate, each with what to write in its place. */
const IDIOMS: readonly (readonly [RegExp, string])[] = [
  [/\bhang(s|ing)? (most )?on\b/i, 'depends on'],
  [/\b(stands?|rests?) on\b/i, 'relies on, depends on'],
  [/\bin hand\b/i, 'margin'],
  [/\bto be had\b/i, 'available, cannot be created'],
  [/\bleft alone\b/i, 'not changed'],
  [/\bplausible sets?\b/i, 'coefficient sets, samples'],
  [/\bworlds?\b/i, 'samples'],
  [/\bdoubts?\b/i, 'uncertainty'],
  [/\b(settles?|settled)\b/i, 'determines, determined'],
  [/\b(comes?|goes|going|gone|went) round\b/i, 'returns, circulates'],
  [/\bloses? (hold|the line)\b/i, 'cannot keep up, no longer crosses'],
  [/\b(asks?|asked)\b/i, 'requires, required'],
  [/\bchances?\b/i, 'probability'],
  [/\bknobs?\b/i, 'setting'],
  [/\bgrains?\b/i, 'particle'],
  [/\b(told|tells?)\b/i, 'reported'],
  [/\bforetold\b/i, 'predicted'],
  [/\bhave to give\b/i, 'relax'],
  [/\bsweep anew\b/i, 'sweep again'],
  [/\bbeside\b/i, 'compared with, next to'],
];

/** Texts in which such a word is right, and why. */
const RIGHT: readonly (readonly [RegExp, string])[] = [
  [
    /dust settle in the room|settled dust|powder settles in it|fines do not settle|solids settle out/,
    'sedimentation',
  ],
  [/^coarser than asked at rest$/, 'the name of a case in the code; no reader sees it'],
];

/** Texts between quotes in a TypeScript file, without comments; a template is cut at what it inserts. */
function textsOf(source: string): string[] {
  const { code } = transformSync(source, {
    loader: 'ts',
    charset: 'utf8',
    supported: { 'template-literal': false },
  });
  return code
    .split('\n')
    .flatMap((line) => line.match(/"(?:[^"\\]|\\.)*"/g) ?? [])
    .map((text) => text.slice(1, -1));
}

/** What is wrong with a text a user may read, each with its remedy. */
function idiomsIn(text: string): string[] {
  const read = text.replace(/<[^>]*>/g, ' ');
  if (!/\s/.test(read.trim()) || RIGHT.some(([right]) => right.test(read.trim()))) return [];
  return IDIOMS.flatMap(([idiom, instead]) => {
    const found = idiom.exec(read);
    return found ? [`"${found[0]}" in "${read.trim().slice(0, 90)}": write ${instead}`] : [];
  });
}

test('a text and its idiom are found in every kind of quotes, and in no comment', () => {
  const source = [
    '// the mill is told: "a comment asks"',
    "const a = 'the rotor asks 18 kW';",
    // biome-ignore lint/suspicious/noTemplateCurlyInString: the text of a program
    'const b = `of ${`${3} plausible sets`} here <p class="asked">`;',
    'const c: string = "it hangs most on x95"; /* the doubt of it */',
  ].join('\n');
  expect(textsOf(source).flatMap(idiomsIn)).toEqual([
    '"asks" in "the rotor asks 18 kW": write requires, required',
    '"plausible sets" in "plausible sets": write coefficient sets, samples',
    '"hangs most on" in "it hangs most on x95": write depends on',
  ]);
});

test('texts of the program are plain', () => {
  const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
    .map((name) => `src/${name.replaceAll('\\', '/')}`)
    .filter((name) => name.endsWith('.ts'));
  expect(files.length).toBeGreaterThan(400);
  const found = files.flatMap((file) =>
    textsOf(readFileSync(file, 'utf8')).flatMap((text) => idiomsIn(text).map((idiom) => `${file}: ${idiom}`)),
  );
  expect(found).toEqual([]);
});

test('so is the page of the project', () => {
  const found = readFileSync('README.md', 'utf8').split('\n').flatMap(idiomsIn);
  expect(found).toEqual([]);
});
