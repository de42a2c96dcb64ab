import { Resvg } from '@resvg/resvg-js';
import { expect, test } from 'vitest';
import type { Shape } from '../../../src/viz/drawing.ts';
import { drawMarkers } from '../../../src/viz/svg/marks.ts';

const SHAPES: readonly Shape[] = ['circle', 'square', 'diamond', 'triangle-up', 'star'];
const PIXELS_A_PX = 4;

/** Lightness 0…255 along a line across the middle of one mark, outside to inside. */
function across(symbol: Shape): number[] {
  const marker = { symbol, size: 10, color: '#ffffff', line: { color: '#000000', width: 1.5 } };
  const place = { left: 0, right: 20, top: 0, bottom: 20, x: (v: number) => v, y: (v: number) => v };
  const mark = drawMarkers(
    { kind: 'line', name: '', x: [10], y: [10], marker, readout: 'none' },
    place as never,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20"><rect width="20" height="20" fill="#fff"/>${mark}</svg>`;
  const { pixels, width } = new Resvg(svg, { fitTo: { mode: 'zoom', value: PIXELS_A_PX } }).render();
  return Array.from({ length: width / 2 }, (_, i) => pixels[4 * ((width / 2) * width + i)]!);
}

test.each(SHAPES)('an open %s is paper inside and has the outline asked for, in a file too', (symbol) => {
  const line = across(symbol);
  expect(line.at(-1)).toBe(255);
  // at a slant an outline of 1.5 px is crossed over a longer way
  const dark = line.filter((value) => value < 128).length / PIXELS_A_PX;
  expect(dark).toBeGreaterThan(1.2);
  expect(dark).toBeLessThan(3.2);
});
