import { describe, expect, test } from 'vitest';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import type { LawHeader } from '../../src/model/parameters.ts';
import { FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';

const ALL: readonly (readonly [string, Readonly<Record<string, LawHeader>>])[] = [
  ['feed', FEED_LAWS],
  ['selection', SELECTION_LAWS],
  ['fragments', FRAGMENT_LAWS],
  ['efficiency', EFFICIENCY_LAWS],
];

for (const [kind, registry] of ALL) {
  describe.each(Object.entries(registry))(`${kind} law %s`, (key, law) => {
    test('is registered under its name, with label, source and summary', () => {
      expect(key).toBe(law.name);
      expect(law.name).toMatch(/^[a-z][a-z0-9-]*$/);
      expect(law.summary.length).toBeGreaterThan(10);
      expect(law.source.length).toBeGreaterThan(3);
    });
    test('describes every parameter, with an example inside its range', () => {
      for (const each of law.parameters) {
        expect(each.meaning.length).toBeGreaterThan(5);
        const value = each.preset?.value ?? each.typical;
        expect(value, each.name).toBeDefined();
        expect(value!).toBeGreaterThanOrEqual(each.minimum ?? Number.NEGATIVE_INFINITY);
        expect(value!).toBeGreaterThan(each.exclusiveMinimum ?? Number.NEGATIVE_INFINITY);
        expect(value!).toBeLessThanOrEqual(each.maximum ?? Number.POSITIVE_INFINITY);
        // what trials may move lies within what is believed
        const { scale, within, spread = 1 } = each.belief ?? {};
        expect(spread).toBeGreaterThan(0);
        if (scale?.kind === 'logit') expect(value! > scale.low && value! < scale.high).toBe(true);
        if (within) expect(value! >= within[0] && value! <= within[1]).toBe(true);
      }
    });
  });
}
