import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import * as library from '../../src/index.ts';
import { cellsOf, difference, runCells, withOutputs } from './notebook.ts';

/** Numbers are printed with four digits, so this is one unit in the last. */
const TOLERANCE = 1e-3;

describe('worked stories', () => {
  const stories = readdirSync('notebooks').filter((file) => file.endsWith('.md') && file !== 'README.md');
  test.each(stories)('%s gives the numbers that stand in it', async (file) => {
    const place = `notebooks/${file}`;
    const text = readFileSync(place, 'utf8');
    const outputs = await runCells(text, library);
    if (process.env.UPDATE_NOTEBOOKS) {
      writeFileSync(place, withOutputs(text, outputs));
      return;
    }
    const cells = cellsOf(text);
    expect(cells.length).toBeGreaterThan(2);
    cells.forEach(({ output }, i) => {
      expect(difference(outputs[i]!, output ?? '', TOLERANCE), `cell ${i + 1}`).toBeUndefined();
    });
  });
  test('a number changed by one per cent is noticed', () => {
    expect(difference('x95 70.7 µm', 'x95 70 µm', TOLERANCE)).toBeDefined();
    expect(difference('x95 70.01 µm', 'x95 70 µm', TOLERANCE)).toBeUndefined();
    expect(difference('x95 70 µm', 'x97 70 µm', TOLERANCE)).toBeDefined();
  });
});
