import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { cellsOf, type Loader, runCells, withOutputs } from '../../src/cli/notebook-cells.ts';
import * as library from '../../src/index.ts';
import { grindloop } from '../program.ts';
import { DRAWN, departures, difference, PRINTED, spoiled } from './notebook.ts';

/** The program by its name, files of the repository by their path from a story, packages by theirs. */
const load: Loader = async (name) => {
  if (name === 'grindloop') return library;
  if (name.startsWith('.')) return import(resolve('notebooks', name));
  return import(name);
};

const standing = (file: string): string | undefined => {
  const place = `notebooks/images/${file}`;
  return existsSync(place) ? readFileSync(place, 'utf8') : undefined;
};

describe('worked stories', () => {
  const stories = readdirSync('notebooks').filter((file) => file.endsWith('.md') && file !== 'README.md');
  test.each(stories)('%s gives the numbers that stand in it', async (file) => {
    const place = `notebooks/${file}`;
    const text = readFileSync(place, 'utf8');
    const given = await runCells(text, load);
    if (process.env.UPDATE_NOTEBOOKS) {
      writeFileSync(place, withOutputs(text, given.outputs));
      for (const [name, svg] of given.drawings) writeFileSync(`notebooks/images/${name}`, svg);
      return;
    }
    const cells = cellsOf(text);
    expect(cells.length).toBeGreaterThan(2);
    expect(departures(text, given, standing)).toEqual([]);
    // not one number stands in it that could be wrong by one per cent unnoticed
    for (const { output = '' } of cells)
      for (const wrong of spoiled(output)) expect(difference(output, wrong, PRINTED), wrong).toBeDefined();
  });

  test.each(stories)('%s is linked where stories are listed', (file) => {
    expect(readFileSync('README.md', 'utf8')).toContain(`(notebooks/${file})`);
  });
});

describe('a story that has gone stale', () => {
  const story = (shown: string) =>
    `\`\`\`ts\nimport { formatNumber } from 'grindloop';\nshow(\`x95 \${formatNumber(70.01)} µm\`);\nfigure('one.svg', '<svg width="300"/>');\n\`\`\`\n\n<!-- output -->\n\n\`\`\`text\n${shown}\n\`\`\`\n![](images/one.svg)\n`;
  const found = async (shown: string, svg: string | undefined) => {
    const text = story(shown);
    return departures(text, await runCells(text, load), () => svg);
  };
  const drawn = '<svg width="300"/>';

  test('agrees within the last digit', async () => {
    expect(await found('x95 70 µm', drawn)).toEqual([]);
  });
  test('a number changed by one per cent is noticed', async () => {
    expect(await found('x95 70.7 µm', drawn)).toHaveLength(1);
  });
  test('a word changed, a drawing changed, gone or not shown is noticed', async () => {
    expect(await found('x97 70 µm', drawn)).toHaveLength(1);
    expect(await found('x95 70 µm', '<svg width="303"/>')).toHaveLength(1);
    expect(await found('x95 70 µm', undefined)).toEqual(['one.svg is missing']);
    const text = story('x95 70 µm').replace('![](images/one.svg)', '');
    expect(departures(text, await runCells(text, load), () => drawn)).toEqual([
      'one.svg is drawn but not shown',
    ]);
  });
  test('a place in a drawing may move by rounding, no further', () => {
    expect(difference('M10.1,200', 'M10.2,200', DRAWN)).toBeUndefined();
    expect(difference('M10.1,200', 'M10.1,202', DRAWN)).toBeDefined();
  });
});

describe('grindloop notebook', () => {
  const folder = mkdtempSync(join(tmpdir(), 'grindloop-notebook-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const own = (cells: string): string => {
    const place = join(folder, 'own.md');
    writeFileSync(place, `A story.\n\n\`\`\`ts\n${cells}\n\`\`\`\n\nIts end.\n`);
    return place;
  };

  test('writes the notebook with its results, and drawings next to it', async () => {
    const place = own(
      "import { formatNumber } from 'grindloop';\nshow(formatNumber(70.01, 3));\nfigure('one.svg', '<svg/>');",
    );
    const output = join(folder, 'ran.md');
    const { code, out } = await grindloop('notebook', place, '-o', output);
    expect([code, out]).toEqual([0, `${output}\n`]);
    expect(readFileSync(output, 'utf8')).toContain('```\n\n<!-- output -->\n\n```text\n70\n```\n\nIts end.');
    expect(readFileSync(join(folder, 'images/one.svg'), 'utf8')).toBe('<svg/>');
  });

  test('names the cell that fails, and a file without cells', async () => {
    const failed = await grindloop(
      'notebook',
      own("throw new Error('no such wheel');"),
      '-o',
      join(folder, 'no.md'),
    );
    expect(failed.code).toBe(1);
    expect(failed.err).toContain('own.md, cell 1: no such wheel');
    expect(existsSync(join(folder, 'no.md'))).toBe(false);
    writeFileSync(join(folder, 'bare.md'), 'Words only.\n');
    expect((await grindloop('notebook', join(folder, 'bare.md'))).err).toContain('has no cell to run');
  });
});
