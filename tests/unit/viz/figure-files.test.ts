import { Resvg } from '@resvg/resvg-js';
import { beforeAll, describe, expect, test } from 'vitest';
import type { FigureOffer, OfferedFigure } from '../../../src/viz/figures/figure-offer.ts';
import { sheetOf, sheetSvg, wrapped } from '../../../src/viz/svg/sheet.ts';
import { WHITE } from '../../../src/viz/theme.ts';
import { pngOf } from '../../../src/viz/write/png.ts';
import { everyOffer } from './offers.ts';

const POINT = ['size-curve', 'grade-efficiency', 'balance', 'choke', 'ladder', 'sway'];
/** Figures of each command, by name. */
const NAMES: Readonly<Record<string, readonly string[]>> = {
  run: POINT,
  'run that chokes': ['choke', 'ladder', 'sway'],
  'report of a sweep': [
    'window',
    'size-curve',
    'grade-efficiency',
    'balance',
    'choke',
    'ladder',
    'ridge',
    'surfaces',
    'effects',
    'indices',
    'sway',
  ],
  compare: ['needed', 'capacity', 'grades', 'grade-efficiency', 'ladder'],
  lesson: [
    'one-hit',
    'once-through',
    'send-back',
    'send-back-2',
    'equal-fineness',
    'top-and-rest',
    'which-wheel',
    'too-much',
    'too-much-2',
    'slips-past',
  ],
};
/** Axes of pure names or rows, which have no unit. */
const UNITLESS = /^(|wheel)$/;

let offers: [command: string, offer: FigureOffer][];
beforeAll(async () => {
  offers = await everyOffer();
}, 120_000);

function each(see: (figure: OfferedFigure, offer: FigureOffer, where: string) => void): void {
  for (const [command, offer] of offers)
    for (const figure of offer.figures) see(figure, offer, `${command}: ${figure.id}`);
}

describe('figures as files', () => {
  test('every command offers its figures, each under one name', () => {
    for (const [command, { figures }] of offers)
      expect(
        figures.map(({ id }) => id),
        command,
      ).toEqual(NAMES[command]);
  });

  test.each([420, 900, 1600])('at %i px each is well-formed and as wide as asked', (width) => {
    each((figure, offer, where) => {
      const svg = sheetSvg(sheetOf(figure, offer.source, width))!;
      const read = new Resvg(svg);
      expect(read.width, where).toBe(width);
      expect(svg, where).not.toMatch(/NaN|Infinity|undefined|var\(/);
    });
  });

  test('each says what it shows, of what, and how far it can be trusted', () => {
    each((figure, offer, where) => {
      const sheet = sheetOf(figure, offer.source, 900);
      const svg = sheetSvg(sheet)!;
      const described = /<title [^>]*>(.+?)<\/title><desc [^>]*>(.+?)<\/desc>/.exec(svg)!;
      expect(described[1]!.length, where).toBeGreaterThan(5);
      expect(described[2]!.length, where).toBeGreaterThan(sheet.drawing.caption.length);
      expect(offer.source, where).toMatch(/Uncalibrated estimate|invented/);
      for (const word of offer.source.split(' ').slice(0, 3)) expect(svg, where).toContain(word);
    });
  });

  test('every axis has a title with its unit', () => {
    each((figure, offer, where) => {
      const { layout } = sheetOf(figure, offer.source, 900).drawing;
      for (const { x, y } of layout.panels)
        for (const { title } of [x, y])
          if (!UNITLESS.test(title)) expect(title, where).toMatch(/, \S|% of|kg\/h/);
    });
  });

  test('words keep a contrast of 4.5 to white, lines of 3 (WCAG 2.2, 1.4.3 and 1.4.11)', () => {
    for (const color of [WHITE.ink, WHITE.soft, WHITE.accent, ...WHITE.series])
      expect(contrast(color, '#ffffff'), color).toBeGreaterThan(4.5);
    expect(contrast(WHITE.hatch, '#ffffff')).toBeGreaterThan(3);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });
});

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
function contrast(one: string, other: string): number {
  const luminance = (color: string) =>
    [1, 3, 5]
      .map((i) => Number.parseInt(color.slice(i, i + 2), 16) / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
      .reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i]!, 0);
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light! + 0.05) / (dark! + 0.05);
}

describe('as PNG', () => {
  const sheet = () => {
    const [, offer] = offers[0]!;
    return sheetSvg(sheetOf(offer.figures[0]!, offer.source, 900))!;
  };

  test('it has the signature, and twice the pixels (PNG, W3C, 5.2 and 11.2.2)', async () => {
    const svg = sheet();
    const png = Buffer.from(await pngOf(svg, 2));
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect(png.readUInt32BE(16)).toBe(1800);
    expect(png.readUInt32BE(20)).toBe(2 * new Resvg(svg).height);
  });

  test('without a typeface it is refused in words', async () => {
    await expect(pngOf(sheet(), 2, { loadSystemFonts: false })).rejects.toThrow(
      /--png: no font is installed, so the PNG would have no text; install a font or use --svg/,
    );
  });
});

describe('a sheet', () => {
  test('holds any text of a user', () => {
    const [, offer] = offers[0]!;
    const hostile = `</text><script>alert(1)</script>"'&\u0000\u0007\uffff]]>`;
    const svg = sheetSvg({ ...sheetOf(offer.figures[0]!, hostile, 900), title: hostile })!;
    expect(() => new Resvg(svg)).not.toThrow();
    expect(svg).not.toContain('<script');
  });

  test('breaks its words evenly, and loses none', () => {
    const words = 'The mill settles where as much comes back as went round, at every load it can carry.';
    const lines = wrapped(words, 330, 12.5);
    expect(lines.join(' ')).toBe(words);
    expect(lines).toHaveLength(2);
    expect(Math.abs(lines[0]!.length - lines[1]!.length)).toBeLessThan(12);
  });
});
