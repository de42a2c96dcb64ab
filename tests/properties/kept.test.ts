import { expect, it } from 'vitest';
import type { Case, Component } from '../../src/model/case.ts';
import { solve } from '../../src/model/loop/solve.ts';
import type { State } from '../../src/model/loop/state.ts';
import type { Kept } from '../../src/model/loop/workspace.ts';
import { PILOT, WHEELS } from '../cases.ts';
import { uniform } from '../reference/random-cases.ts';

const base = PILOT.components[0]!;
const second: Component = {
  share: 0.4,
  material: {
    ...base.material,
    density: 2700,
    fragments: { law: 'truncated-exponential' },
  },
  feed: { law: 'rrsb', x63: 300e-6, exponent: 1.2 },
};

/** One part of a component changed, the others the same objects as before, as a sweep over the material does it. */
const CHANGES: readonly ((component: Component, by: number) => Component)[] = [
  (c) => c,
  (c) => ({ ...c }),
  (c, by) => ({ ...c, material: { ...c.material, density: 1590 * by } }),
  (c, by) => ({ ...c, material: { ...c.material, sphericity: 0.6 + 0.2 * by } }),
  (c, by) => ({
    ...c,
    material: { ...c.material, selection: { ...base.material.selection, friability: by } },
  }),
  (c, by) => ({ ...c, material: { ...c.material, fragments: { ...base.material.fragments, exponent: by } } }),
  (c) => ({ ...c, material: { ...c.material, fragments: second.material.fragments } }),
  (c, by) => ({ ...c, feed: { ...base.feed, x50: 400e-6 * by } }),
  (c) => ({ ...c, feed: second.feed }),
];

function flows(state: State): unknown {
  if (state.status === 'choked') return { reason: state.reason };
  return {
    circulating: state.circulating,
    conditions: state.conditions,
    components: state.components.map(({ cutSize, ...arrays }) => ({
      cutSize,
      product: [...arrays.product],
      arriving: [...arrays.arriving],
      breakage: [...arrays.breakage],
    })),
  };
}

it('parts kept from the case before change no digit, whatever changed between the two', () => {
  const random = uniform(7);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const kept: Kept = {};
  let components: readonly Component[] = [base];
  let steady = 0;
  for (let turn = 0; turn < 300; turn++) {
    const by = 0.7 + 0.6 * random();
    const changed = components.map((one) => pick(CHANGES)(one, by));
    if (random() < 0.1)
      components =
        changed.length === 1 ? [{ ...changed[0]!, share: 0.6 }, second] : [{ ...changed[0]!, share: 1 }];
    else if (random() < 0.8) components = changed;
    const sharpness = pick([0.55, 0.55, 0.8]);
    const wheel = WHEELS['medium-leaning'];
    const c: Case = {
      ...PILOT,
      components,
      wheel: { ...wheel, coefficients: { ...wheel.coefficients, sharpness } },
      loop: { ...PILOT.loop, smallestSize: pick([1e-7, 1e-7, 2e-7]) },
      settings: {
        ...PILOT.settings,
        // slow hits and a fast wheel: the grind limit lies above the cut, and the grid is a finer one
        ...pick([{}, {}, { rotorSpeed: 55, wheelSpeed: 60 }]),
        feedRate: PILOT.settings.feedRate * (0.5 + random()),
      },
    };
    const fresh = flows(solve(c, { choke: false }));
    expect(flows(solve(c, { kept, choke: false }))).toEqual(fresh);
    if (!('reason' in (fresh as object))) steady++;
  }
  expect(steady).toBeGreaterThan(150);
});
