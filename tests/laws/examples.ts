import type { LawChoice, LawHeader } from '../../src/model/parameters.ts';

/** A law with its presets and typical values: what conformance tests and examples use. */
export function example(law: LawHeader): LawChoice {
  const numbers = law.parameters.map(({ name, preset, typical }) => {
    const value = preset?.value ?? typical;
    if (value === undefined) throw new Error(`${law.name}.${name} has neither a preset nor a typical value`);
    return [name, value] as const;
  });
  return {
    law: law.name,
    ...Object.fromEntries(numbers),
    ...(law.table ? { points: law.table.typical } : {}),
  };
}
