import { expect, test } from 'vitest';
import { feedFaults } from '../../src/model/conformance/feed-conformance.ts';
import { componentFeed, FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';

test.each(Object.entries(FEED_LAWS))('feed law %s conforms', (name, law) => {
  expect(law.name).toBe(name);
  expect(feedFaults(law)).toEqual([]);
});

test('one class may hold the whole feed', () => {
  const feed = componentFeed(buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 }), {
    law: 'gaudin-schuhmann',
    top: 1e-9,
    exponent: 1,
  });
  expect(feed[0]).toBe(1);
});
