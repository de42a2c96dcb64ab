import { readFileSync } from 'node:fs';
import { describe, it } from 'vitest';
import { percentileOf } from '../../src/scenario/measurement/measured-curve.ts';
import { readMeasurement } from '../../src/scenario/measurement/read-measurement.ts';
import { close } from '../close.ts';

/** Marwick, Particle-size-analysis-Putslaagte-1, PL1-C11-1-1 (CC0); percentiles as the instrument reported them [µm]. */
const REPORTED = [
  [0.1, 10.29624],
  [0.5, 93.96205],
  [0.9, 216.01678],
] as const;
const TOLERANCE = 1e-3;

const original = readFileSync(new URL('../fixtures/psd/sediment-laser.csv', import.meta.url));
const rows = original
  .toString('utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',').map(Number) as [number, number, number]);
const comma = (value: number): string => String(Number(value.toPrecision(10))).replace('.', ',');
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The same record as five makes of export would write it. */
const DISGUISES: Readonly<Record<string, Uint8Array>> = {
  'as published': original,
  'semicolons, decimal commas, byte-order mark, German words': utf8(
    `\ufeffProbe;Lot 7\r\nVerfahren;Laserbeugung\r\n\r\nKorngröße (µm);Durchgang (Vol.-%)\r\n${rows
      .map(([size, , under]) => `${comma(size)};${comma(under)}`)
      .join('\r\n')}\r\n`,
  ),
  'tabs, UTF-16, millimetres, oversize first, falling sizes': Buffer.concat([
    Buffer.from([0xff, 0xfe]),
    Buffer.from(
      `Cumulative oversize [volume %]\tSize [mm]\n${[...rows]
        .reverse()
        .map(([size, , under]) => `${(100 - under).toFixed(3)}\t${size / 1000}`)
        .join('\n')}`,
      'utf16le',
    ),
  ]),
  'in-class, nanometres, upper ends': utf8(
    `Upper class size (nm),Volume in class (%)\n${rows.map(([size, share]) => `${size * 1000},${share}`).join('\n')}`,
  ),
  'Latin-1, blanks, fractions, decimal commas': Buffer.from(
    `Größe (µm)   Volumen Durchgang\n${rows
      .map(([size, , under]) => `${comma(size)}    ${comma(under / 100)}`)
      .join('\n')}`,
    'latin1',
  ),
  'sizes across the top': utf8(
    `laser diffraction by volume\n\nSize (µm);${rows.map(([size]) => comma(size)).join(';')}\nlayer 11;${rows
      .map(([, , under]) => comma(under))
      .join(';')}`,
  ),
};

describe('a published laser record reads to the percentiles of its own instrument', () => {
  for (const [disguise, bytes] of Object.entries(DISGUISES)) {
    it(disguise, () => {
      const { samples } = readMeasurement(bytes, 'record.csv');
      for (const [share, size] of REPORTED) close(percentileOf(samples[0]!, share) * 1e6, size, TOLERANCE);
    });
  }
});
