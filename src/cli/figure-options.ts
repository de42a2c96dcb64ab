import type { Argv } from 'yargs';
import { InputError } from '../scenario/errors.ts';
import type { FigureOffer } from '../viz/figures/figure-offer.ts';
import { writeWhole } from './write-file.ts';

const GROUP = 'A figure as a file:';
const WIDTH = { least: 320, usual: 900, most: 4000 } as const;
/** Pixels of a PNG to a px of the figure, so that it stays sharp on a slide. */
const DENSITY = 2;

/** The options by which a command writes one of its figures as a file. */
export function figureOptions(argv: Argv): Argv {
  return argv
    .option('figure', {
      type: 'string',
      describe: 'figure to write; a wrong name lists them all',
      group: GROUP,
    })
    .option('svg', { type: 'string', describe: 'SVG file to write it to', group: GROUP })
    .option('png', { type: 'string', describe: 'PNG file to write it to', group: GROUP })
    .option('width', {
      type: 'number',
      default: WIDTH.usual,
      describe: 'width of the figure, px; a PNG has twice as many pixels',
      group: GROUP,
    });
}

/** What was asked of a figure. */
export interface FigureWish {
  readonly name: string;
  readonly svg?: string;
  readonly png?: string;
  /** [px] */
  readonly width: number;
}

/**
 * What a parsed command line says of a figure; undefined where nothing.
 *
 * @throws InputError where a file is named without a figure or the other way round, or the width is out of range
 */
export function figureWish(options: Readonly<Record<string, unknown>>): FigureWish | undefined {
  const { figure, svg, png, width } = options;
  const file = svg ?? png;
  if (figure === undefined && file === undefined) return undefined;
  const faults = [
    ...(figure === undefined
      ? [{ place: '--figure', message: `say which figure goes to ${file}; a wrong name lists them all` }]
      : []),
    ...(file === undefined
      ? [{ place: '--figure', message: 'say where it goes: --svg FILE or --png FILE' }]
      : []),
    ...(['svg', 'png'] as const)
      .filter((kind) => options[kind] === '')
      .map((kind) => ({ place: `--${kind}`, message: 'needs the name of a file' })),
    ...(typeof width === 'number' && width >= WIDTH.least && width <= WIDTH.most
      ? []
      : [{ place: '--width', message: `must be ${WIDTH.least} to ${WIDTH.most} px, is ${width}` }]),
  ];
  if (faults.length > 0) throw new InputError(faults);
  return {
    name: String(figure),
    ...(typeof svg === 'string' ? { svg } : {}),
    ...(typeof png === 'string' ? { png } : {}),
    width: Math.round(width as number),
  };
}

/**
 * Writes one of the figures on offer.
 *
 * @returns the files written
 * @throws InputError where there is no figure of that name, or only a browser can draw it
 */
export async function writeFigure(
  { figures, source }: FigureOffer,
  { name, svg, png, width }: FigureWish,
): Promise<string[]> {
  const offered = figures.find(({ id }) => id === name);
  if (!offered) {
    const names = figures.map(({ id }) => id).join(', ');
    const message =
      figures.length === 0
        ? 'there is no figure to write here'
        : `no figure ${name} here; there are ${names}`;
    throw new InputError([{ place: '--figure', message }]);
  }
  // what draws is loaded where a figure is written
  const { sheetOf, sheetSvg } = await import('../viz/svg/sheet.ts');
  const text = sheetSvg(sheetOf(offered, source, width));
  if (text === undefined) {
    const message = `${name} is drawn in three dimensions, which needs a browser: open the page and save it there`;
    throw new InputError([{ place: '--figure', message }]);
  }
  // the picture first: where it fails, nothing is written
  const picture =
    png === undefined ? undefined : await (await import('../viz/write/png.ts')).pngOf(text, DENSITY);
  if (svg !== undefined) writeWhole(svg, text);
  if (picture) writeWhole(png!, picture);
  return [svg, png].filter((file) => file !== undefined);
}
