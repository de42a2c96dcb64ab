import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { packageCatalogue } from '../../../src/scenario/load.ts';
import { parseScenario } from '../../../src/scenario/parse.ts';
import { isLogo } from '../../../src/scenario/read/logo.ts';

const CASE = `
job: { number: 7, logo: logo.any }
material: { from: organic-crystal }
feed: { law: log-normal, x50: 500 um, spread: 0.35 }
machine: { from: pilot-300 }
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 1500 rpm, feedRate: 150 kg/h }
`;

/** The scenario with a logo of some content. */
function withLogo(content: Uint8Array | string) {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  return parseScenario(CASE, { ...packageCatalogue(), readFile: () => '', readBytes: () => bytes });
}

function faultOf(content: Uint8Array | string): string {
  try {
    withLogo(content);
  } catch (error) {
    if (error instanceof InputError)
      return error.faults.map(({ place, message }) => `${place}: ${message}`).join('\n');
    throw error;
  }
  return '';
}

const svg = (inside: string, root = '') =>
  `<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" ${root}>${inside}</svg>\n`;
const PNG = Uint8Array.from([137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 0, 73, 69, 78, 68, 1, 2, 3, 4]);
const JPEG = Uint8Array.from([255, 216, 255, 224, 1, 2, 3, 255, 217]);

describe('the logo of a job', () => {
  test.each([
    ['png', PNG],
    ['jpeg', JPEG],
    ['svg+xml', svg('<defs><g id="a"/></defs><use href="#a" fill="url(#b)"/>')],
    ['svg+xml', svg(`<image href="data:image/png;base64,AAAA"/>`)],
  ])('of kind %s is embedded letter by letter, whatever its file is called', (kind, content) => {
    const { logo, job } = withLogo(content);
    expect(logo!.startsWith(`data:image/${kind};base64,`)).toBe(true);
    const bytes = Buffer.from(logo!.split(',')[1]!, 'base64');
    expect(bytes.equals(Buffer.from(content as string))).toBe(true);
    expect(isLogo(logo)).toBe(true);
    expect(job.number).toBe('7');
  });

  test.each([
    ['a script', svg('<script>alert(1)</script>')],
    ['a script', svg('<svg:script>alert(1)</svg:script>')],
    ['an event handler', svg('<rect/>', 'onload="alert(1)"')],
    ['a script in a link', svg('<a href="javascript:alert(1)"/>')],
    ['a page or a player', svg('<foreignObject><p/></foreignObject>')],
    ['a link to another file', svg('<image href="https://example.org/a.png"/>')],
    ['a link to another file', svg(`<image xlink:href='other.svg'/>`)],
    ['a style from another file', svg('<style>@import "a.css"</style>')],
    ['a style from another file', svg('<rect fill="url(other.svg#a)"/>')],
    ['entities', `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "b">]>${svg('').slice(22)}`],
    ['ends before the picture does', PNG.subarray(0, 12)],
    ['ends before the picture does', JPEG.subarray(0, 6)],
    ['ends before the picture does', svg('<g>').slice(0, -10)],
    ['is no PNG, JPEG or SVG picture', 'GIF89a'],
    ['is no PNG, JPEG or SVG picture', '<html><svg></svg></html>'],
    ['has 301 kB; a logo may have 300 kB at most', new Uint8Array(300_001)],
  ])('with %s is refused with the reason', (reason, content) => {
    const fault = faultOf(content);
    expect(fault).toMatch(/^job\.logo: logo\.any /);
    expect(fault).toContain(reason);
  });

  test('stored data that is no embedded picture is none', () => {
    for (const text of ['data:text/html;base64,AAAA', 'x', 7, 'data:image/png;base64,"><script>', undefined])
      expect(isLogo(text)).toBe(false);
  });
});
