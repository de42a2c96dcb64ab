import { expect, test } from 'vitest';
import type { Drawing } from '../../../src/viz/drawing.ts';
import { nearestPoint, readPoints, steppedPoint } from '../../../src/viz/svg/read-points.ts';

const axis = { title: '', scale: 'linear', range: [0, 100], ticks: [], grid: false } as const;
const drawing: Drawing = {
  data: [
    { kind: 'line', name: 'one', x: [0, 50, 100], y: [0, 50, 100], readout: ['a', 'b', 'c'] },
    { kind: 'line', name: 'silent', x: [50], y: [50], readout: 'none' },
    { kind: 'line', name: 'two', x: [0, 60, 200], y: [100, 40, 0], readout: ['d', 'e', 'outside'] },
    { kind: 'bar', name: 'bar', y: [1], from: [0], to: [1], thickness: 1, color: 'red' },
  ],
  layout: {
    width: 120,
    height: 120,
    margin: { left: 10, right: 10, top: 10, bottom: 10 },
    panels: [{ x: axis, y: axis, left: 0, right: 1, bottom: 0, top: 1 }],
    notes: [],
    rules: [],
    hover: 'point',
  },
  caption: '',
  table: { heads: [], rows: [] },
};
const points = readPoints(drawing);
const named = (words: string) => points.find((point) => point.words === words);

test('points with words inside their panel, in pixels from the top left', () => {
  expect(points).toEqual([
    { trace: 0, left: 10, top: 110, words: 'a' },
    { trace: 0, left: 60, top: 60, words: 'b' },
    { trace: 0, left: 110, top: 10, words: 'c' },
    { trace: 2, left: 10, top: 10, words: 'd' },
    { trace: 2, left: 70, top: 70, words: 'e' },
  ]);
  expect(readPoints({ ...drawing, layout: { ...drawing.layout, hover: 'none' } })).toEqual([]);
});

test('the nearest within reach, and none beyond it', () => {
  expect(nearestPoint(points, 63, 62, 40)?.words).toBe('b');
  expect(nearestPoint(points, 67, 67, 40)?.words).toBe('e');
  expect(nearestPoint(points, 60, 110, 40)).toBeUndefined();
});

test('keys go along a line and to the nearest point of the next', () => {
  expect(steppedPoint(points, undefined, 'ArrowRight')?.words).toBe('a');
  expect(steppedPoint(points, named('a'), 'ArrowRight')?.words).toBe('b');
  expect(steppedPoint(points, named('a'), 'ArrowLeft')?.words).toBe('a');
  expect(steppedPoint(points, named('a'), 'End')?.words).toBe('c');
  expect(steppedPoint(points, named('c'), 'Home')?.words).toBe('a');
  expect(steppedPoint(points, named('b'), 'ArrowDown')?.words).toBe('e');
  expect(steppedPoint(points, named('d'), 'ArrowUp')?.words).toBe('b');
  expect(steppedPoint(points, named('b'), 'ArrowUp')?.words).toBe('e');
});
