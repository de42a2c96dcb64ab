import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { check } from '../../../src/cli/check.ts';
import type { Command } from '../../../src/cli/command.ts';
import { newScenario } from '../../../src/cli/new.ts';
import { quantities } from '../../../src/cli/quantities.ts';
import { InputError } from '../../../src/scenario/errors.ts';
import { loadScenario, packageCatalogue } from '../../../src/scenario/load.ts';
import { QUANTITIES } from '../../../src/scenario/outcome/quantities.ts';
import { SELECTION_LAWS } from '../../../src/scenario/read/laws.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'grindloop-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Runs a command and returns what it printed and its exit code. */
async function run(
  command: Command,
  options: Record<string, unknown>,
): Promise<{ text: string; code: number }> {
  const written: string[] = [];
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((text) => written.push(String(text)) > 0);
  try {
    const code = await command.run({ _: [], $0: '', ...options });
    return { text: written.join(''), code };
  } finally {
    spy.mockRestore();
  }
}

describe('new', () => {
  test('writes a scenario that is in order, says what else may be given, and leaves nothing beside it', async () => {
    const file = join(folder, 'lot.yaml');
    expect((await run(newScenario, { file, force: false })).code).toBe(0);
    expect(readdirSync(folder)).toEqual(['lot.yaml']);
    const scenario = await loadScenario(file);
    expect(scenario.title).toBe('lot');
    const text = readFileSync(file, 'utf8');
    for (const name of Object.keys(SELECTION_LAWS)) expect(text).toContain(`law: ${name}`);
    for (const name of packageCatalogue().catalogueNames('materials')) expect(text).toContain(name);
    expect(text).toContain('velocityRatio: 0.85');
    expect(text).toMatch(/test your own dust/);
  });

  test('replaces a file only when told to', async () => {
    const file = join(folder, 'mine.yaml');
    writeFileSync(file, 'title: mine');
    await expect(run(newScenario, { file, force: false })).rejects.toThrow(/--force/);
    expect(readFileSync(file, 'utf8')).toBe('title: mine');
    await run(newScenario, { file, force: true });
    expect(readFileSync(file, 'utf8')).not.toBe('title: mine');
  });

  test('cannot write where there is no folder', async () => {
    const file = join(folder, 'none', 'lot.yaml');
    await expect(run(newScenario, { file, force: false })).rejects.toThrow(InputError);
  });
});

describe('check', () => {
  test('prints every value with unit, label and source', async () => {
    const { text, code } = await run(check, { file: 'scenarios/erythritol.yaml', set: [], json: false });
    expect(code).toBe(0);
    expect(text).toMatch(/selection\.friability +0\.9 +kg\/\(J m\) +given +scenario file/);
    expect(text).toMatch(/coefficients\.gapLoss +8\.41 +assumed +/);
    expect(text).toMatch(/test your own dust/);
    const { provenance } = await loadScenario('scenarios/erythritol.yaml');
    expect(text).toContain(`${Object.keys(provenance).length} values: `);
  });

  test('prints data on request', async () => {
    const { text } = await run(check, {
      file: 'scenarios/mineral-filler.yaml',
      set: ['air.humidity=20..60 %'],
      json: true,
    });
    const data = JSON.parse(text);
    expect(data.values['material.density'].label).toBe('recalled');
    expect(data.uncertain['air.humidity']).toEqual([0.2, 0.6]);
    expect(data.values['feed.x50'].source).toMatch(/Marwick/);
  });

  test.each([
    ['nowhere.yaml', /no such file/],
    ['scenarios', /it is a folder/],
  ])('%s', async (file, message) => {
    await expect(run(check, { file, set: [], json: false })).rejects.toThrow(message);
  });

  test('lists all faults of a file', async () => {
    const file = 'tests/fixtures/invalid/several-faults.yaml';
    const error = await run(check, { file, set: [], json: false }).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(InputError);
    expect((error as InputError).faults).toHaveLength(4);
  });
});

describe('quantities', () => {
  test('lists every quantity with unit, symbol and meaning', async () => {
    const { text } = await run(quantities, { json: false });
    for (const { name, meaning } of QUANTITIES) {
      expect(text).toMatch(new RegExp(`^${name}\\b`, 'm'));
      expect(text).toContain(meaning);
    }
    const data = JSON.parse((await run(quantities, { json: true })).text);
    expect(data).toHaveLength(QUANTITIES.length);
  });
});
