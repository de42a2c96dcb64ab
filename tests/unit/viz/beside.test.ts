import { expect, test } from 'vitest';
import { ladderView } from '../../../src/answers/feed-ladder.ts';
import { withBands } from '../../../src/answers/feed-ladder-bands.ts';
import { besideView, ladderWith } from '../../../src/answers/second-machine.ts';
import { machineNamed } from '../../../src/cli/machine-named.ts';
import { InputError } from '../../../src/scenario/errors.ts';
import { ladderFigure } from '../../../src/viz/figures/ladder.ts';
import { PAGE } from '../../../src/viz/theme.ts';
import { demo } from '../../browser/sweep-page.ts';

test('a second machine climbs higher at the same product, named with its settings', async () => {
  const scenario = await demo();
  const other = machineNamed('production-600', '--compare-with');
  const beside = besideView(scenario, other)!;
  const own = ladderView(scenario);
  expect(beside.name).toMatch(
    /^production mill, 600 mm rotor.*set for the same product: rotor \d+ rpm, .* wheel \d+ rpm, air \d+ m³\/h$/,
  );
  expect(beside.feed.at(-1)!).toBeGreaterThan(2 * own.feed.at(-1)!);
  // it is matched at the highest rate with the same product: x95 passes there through the first machine's
  const x95 = own.rungs[0]!.values[own.feed.findIndex((feed) => feed >= 300)]!;
  const values = beside.rungs[0]!.values.filter(Number.isFinite);
  expect(Math.min(...values)).toBeLessThan(x95);
  expect(Math.max(...values)).toBeGreaterThan(x95);
  const drawing = ladderFigure.draw(ladderWith(scenario, other), { width: 760, theme: PAGE });
  expect(drawing.caption).toContain('Dashed: production mill');
  expect(drawing.data.filter(({ name }) => name === beside.name)).toHaveLength(4);
});

test('the ladder carries what the coefficients leave open', async () => {
  const scenario = await demo();
  const { rungs, feed } = withBands(scenario, ladderView(scenario));
  for (const { band, values } of rungs) {
    expect(band!.low).toHaveLength(feed.length);
    const known = band!.low.map((_, i) => i).filter((i) => Number.isFinite(band!.low[i]!));
    expect(known.length).toBeGreaterThan(10);
    // what chokes counts as above: once open, the band stays open, and neither end ever falls back
    const open = band!.high.indexOf(Number.POSITIVE_INFINITY);
    expect(open).toBeGreaterThan(5);
    for (const i of known.slice(1)) {
      expect(band!.low[i]!).toBeGreaterThanOrEqual(band!.low[i - 1]!);
      expect(band!.high[i]!).toBeGreaterThanOrEqual(band!.high[i - 1]!);
    }
    for (const i of known) expect(band!.low[i]!).toBeLessThanOrEqual(band!.high[i]!);
    expect(known.some((i) => band!.low[i]! < values[i]! && values[i]! < band!.high[i]!)).toBe(true);
  }
});

test('a machine that is not there is a fault of the option that named it', () => {
  expect(() => machineNamed('no-such-mill', '--compare-with')).toThrow(InputError);
  expect(() => machineNamed('no-such-mill', '--compare-with')).toThrow(/--compare-with/);
});
