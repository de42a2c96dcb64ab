import { describe, expect, test } from 'vitest';
import { nameOf } from '../../../src/cli/command.ts';
import { COMMANDS } from '../../../src/cli/commands.ts';
import { grindloop } from '../../program.ts';

describe('help', () => {
  test.each(COMMANDS.map(nameOf))('%s ends with one or two examples of its own', async (name) => {
    const { code, out } = await grindloop(name, '--help');
    expect(code).toBe(0);
    const [, examples = ''] = out.split('\nExamples:\n');
    const lines = examples.split('\n').filter((line) => /^ {2}(grindloop|source)/.test(line));
    expect(lines.length, out).toBeGreaterThanOrEqual(1);
    expect(lines.length).toBeLessThanOrEqual(2);
    for (const line of lines) expect(line).toContain(`grindloop ${name}`);
  });
});
