import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const SRC = resolve(import.meta.dirname, '../../src');
/** Rooms from the ground up: a file may import from its own room and from those before it. */
const ROOMS = ['model', 'plant', 'scenario', 'sweep', 'trials', 'search', 'answers', 'viz', 'cli'];
/** Rooms side by side: neither imports the other. */
const APART = [['sweep', 'trials']];
/** Where `node:` and packages that need it may stand. */
const ON_NODE = [
  /^cli\//,
  /^scenario\/(load|load-laws|package-folder)\.ts$/,
  /^trials\/log\/file\.ts$/,
  /^sweep\/(workers|store|study)\//,
  /^viz\/(write|report|lesson|compare|notebook|image)/,
];
const PURE = /^(model|plant)\//;

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));

function importsOf(file: string): string[] {
  const text = readFileSync(join(SRC, file), 'utf8');
  return [
    ...text.matchAll(/^(?:import|export)[^'"]*?from '([^']+)'/gm),
    ...text.matchAll(/import\('([^']+)'\)/g),
  ].map((found) => found[1]!);
}

describe('imports point one way', () => {
  test.each(files.filter((file) => file.includes('/')))('%s', (file) => {
    const room = ROOMS.indexOf(file.split('/')[0]!);
    expect(room, `${file} stands in no room`).toBeGreaterThanOrEqual(0);
    for (const target of importsOf(file)) {
      if (!target.startsWith('.')) {
        expect(PURE.test(file), `${file} imports ${target}, but the model and plant are pure`).toBe(false);
        if (target.startsWith('node:')) {
          expect(
            ON_NODE.some((place) => place.test(file)),
            `${file} imports ${target}`,
          ).toBe(true);
        }
        continue;
      }
      const place = relative(SRC, resolve(dirname(join(SRC, file)), target));
      const other = ROOMS.indexOf(place.split('/')[0]!);
      expect(other, `${file} imports ${place}`).toBeLessThanOrEqual(room);
      for (const [one, two] of APART) {
        const pair = [ROOMS[room], ROOMS[other]];
        expect(pair.includes(one!) && pair.includes(two!), `${file} imports ${place}`).toBe(false);
      }
    }
  });
});

test('no file imports itself by way of others, not even types', () => {
  const targets = new Map(
    files.map((file) => [
      file,
      importsOf(file)
        .filter((target) => target.startsWith('.'))
        .map((target) => relative(SRC, resolve(dirname(join(SRC, file)), target))),
    ]),
  );
  const done = new Set<string>();
  const follow = (file: string, way: readonly string[]): void => {
    expect(way, [...way, file].join(' → ')).not.toContain(file);
    if (done.has(file)) return;
    for (const target of targets.get(file) ?? []) follow(target, [...way, file]);
    done.add(file);
  };
  for (const file of files) follow(file, []);
});

/** What solves, searches, ranks or judges: pages and commands take it from the answers, and import at most its types. */
const WORKS = [
  /^search\//,
  /^model\/(loop|time)\//,
  /^plant\/(plant-state|fan-operating-point|air-path\/)/,
  /^scenario\/outcome\/(solved|spec|spec-result|relative-margin|machine-limits)\.ts$/,
  /^trials\/(fit|grade|calibration)\//,
  /^trials\/(posterior-samples|spread)\.ts$/,
];
/** Drawn by hand on a model of its own: the lesson's steps. */
const LESSON = /^viz\/lesson\//;

/** Values a file imports from other files of the project; types do no work. */
function valuesFrom(file: string): string[] {
  const text = readFileSync(join(SRC, file), 'utf8');
  return [
    ...text.matchAll(/^(?:import|export)(?! type)([^'"]*?)from '(\.[^']+)'/gm),
    ...text.matchAll(/()import\('(\.[^']+)'\)/g),
  ]
    .filter(
      ([, names]) =>
        !names ||
        names
          .replace(/[{}\s]/g, '')
          .split(',')
          .some((name) => name !== '' && !name.startsWith('type')),
    )
    .map(([, , target]) => relative(SRC, resolve(dirname(join(SRC, file)), target!)));
}

test('pages draw and commands print: neither solves, searches, ranks or judges', () => {
  for (const file of files.filter((each) => /^(viz|cli)\//.test(each) && !LESSON.test(each))) {
    const working = valuesFrom(file).filter((target) => WORKS.some((room) => room.test(target)));
    expect(working, `${file} imports what solves, searches, ranks or judges`).toEqual([]);
  }
});
