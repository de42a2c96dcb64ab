import { InputError } from '../../scenario/errors.ts';

/** Where a rasteriser looks for fonts. */
export interface Typefaces {
  readonly loadSystemFonts: boolean;
  readonly fontFiles?: string[];
}

const SYSTEM: Typefaces = { loadSystemFonts: true };
const PROBE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><text x="2" y="15" font-size="12">ab</text></svg>';

/**
 * An SVG as PNG, without a browser.
 *
 * @param svg text of the file
 * @param density pixels to a px
 * @throws InputError where this machine has no rasteriser built for it, or no font to write text in
 */
export async function pngOf(svg: string, density: number, font: Typefaces = SYSTEM): Promise<Uint8Array> {
  const { Resvg } = await rasteriser();
  if (new Resvg(PROBE, { font }).getBBox() === undefined) {
    throw refusal('no font is installed, so the PNG would have no text; install a font or use --svg');
  }
  return new Resvg(svg, { font, fitTo: { mode: 'zoom', value: density } }).render().asPng();
}

async function rasteriser(): Promise<typeof import('@resvg/resvg-js')> {
  try {
    return await import('@resvg/resvg-js');
  } catch {
    throw refusal(
      '@resvg/resvg-js is not installed for this kind of machine: npm install @resvg/resvg-js, or use --svg',
    );
  }
}

function refusal(message: string): InputError {
  return new InputError([{ place: '--png', message }]);
}
