import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import { scenarioText } from './reading.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'grindloop-'));
  mkdirSync(join(folder, 'jobs'));
  mkdirSync(join(folder, 'powders/base'), { recursive: true });
  writeFileSync(join(folder, 'powders/mine.yaml'), 'from: base/sugar.yaml\nname: mine');
  writeFileSync(join(folder, 'powders/base/sugar.yaml'), 'from: sucrose\nsphericity: 0.9');
  writeFileSync(join(folder, 'jobs/feed.csv'), 'size_um,undersize_pct\n10,5\n100,60\n500,100\n');
  writeFileSync(
    join(folder, 'jobs/a.yaml'),
    scenarioText({ material: '{ from: ../powders/mine.yaml }', feed: '{ file: feed.csv, basis: mass }' }),
  );
  writeFileSync(join(folder, 'large.yaml'), `title: ${'x'.repeat(5_000_000)}`);
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('files on disk', () => {
  test('are found beside the file that names them', async () => {
    const { components } = await loadScenario(join(folder, 'jobs/a.yaml'));
    expect(components[0]!.material).toMatchObject({ name: 'mine', sphericity: 0.9, density: 1587 });
    expect(components[0]!.feed.law).toBe('table');
  });

  test.each([
    ['none.yaml', /cannot be read: there is no such file/],
    ['jobs', /cannot be read: it is a folder/],
    ['large.yaml', /cannot be read: it is larger than 4 MB/],
  ])('%s', async (name, message) => {
    await expect(loadScenario(join(folder, name))).rejects.toThrow(message);
  });

  test('a device is not opened', async () => {
    await expect(loadScenario('/dev/zero')).rejects.toThrow(/no (regular|such) file/);
    const text = scenarioText({ material: '{ from: /dev/zero.yaml }', feed: '{ file: /dev/zero }' });
    writeFileSync(join(folder, 'jobs/b.yaml'), text);
    await expect(loadScenario(join(folder, 'jobs/b.yaml'))).rejects.toThrow(
      /feed\.file .*no (regular|such) file/,
    );
  });
});
