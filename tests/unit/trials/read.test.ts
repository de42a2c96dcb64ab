import { describe, expect, it, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { decimalSign, parseNumber } from '../../../src/scenario/measurement/cell-number.ts';
import { decode } from '../../../src/scenario/measurement/decode.ts';
import { meshOpening } from '../../../src/scenario/measurement/mesh-openings.ts';
import { readMeasurement } from '../../../src/scenario/measurement/read-measurement.ts';
import type { ReadOptions } from '../../../src/scenario/measurement/reading-questions.ts';
import { splitRows } from '../../../src/scenario/measurement/split-rows.ts';
import { percentileShare } from '../../../src/scenario/measurement/stated-percentiles.ts';
import { close } from '../../close.ts';

const read = (text: string, options: ReadOptions = {}) =>
  readMeasurement(new TextEncoder().encode(text), 'export.csv', options);

function faults(text: string, options: ReadOptions = {}): string[] {
  try {
    read(text, options);
  } catch (error) {
    if (error instanceof InputError) return error.faults.map((fault) => fault.message);
    throw error;
  }
  return [];
}

const points = (text: string, options: ReadOptions = {}) =>
  read(text, options).samples[0]!.points.map(({ size, undersize }) => [size * 1e6, undersize] as const);

describe('encodings and numbers', () => {
  it('examples of the docstrings hold', () => {
    expect(decode(Uint8Array.of(0x78, 0xb5)).text).toBe('xµ');
    expect(decimalSign(['0,296', '1,318'])).toBe('comma');
    expect(parseNumber('1.234,5 %', 'comma')).toBe(1234.5);
    expect(splitRows('size;Q\n1,5;20').separator).toBe('semicolon');
    expect(percentileShare('D(v,0.5)')).toBe(0.5);
    close(meshOpening(200, 'astm-e11') as number, 75e-6, 1e-12);
  });

  it('UTF-16 is known without its mark', () => {
    const text = 'size um;passing %\n10;50\n20;100';
    expect(decode(Buffer.from(text, 'utf16le')).encoding).toBe('utf-16le');
    expect(decode(Buffer.from(text, 'utf16le').swap16()).encoding).toBe('utf-16be');
    expect(decode(Buffer.from(text, 'utf16le').swap16()).text).toBe(text);
  });

  it('many names of a percentile, but not of a moment', () => {
    for (const name of [
      'd50',
      'D50',
      'x50',
      'x50,3',
      'Dv50',
      'D(v,0.5)',
      'd(0.5)',
      'DV(50)',
      'D[v; 0,5]',
      'x(50 %)',
      'Dv 50 (µm)',
    ]) {
      expect(percentileShare(name), name).toBe(0.5);
    }
    for (const name of ['D32', 'D[4,3]', 'D(3,2)', 'd43', 'density', 'x', 'D'])
      expect(percentileShare(name), name).toBeUndefined();
  });
});

describe('what is understood', () => {
  it('says it in one line', () => {
    const { samples } = read('laser diffraction\nsize (µm);volume undersize (%)\n0,3;0,5\n10;50\n2000;100');
    expect(samples[0]!.understood).toBe('3 classes, 0.3–2000 µm, cumulative undersize, volume %, laser');
    expect(samples[0]!.remarks.join()).toContain('0.5 % is finer than 0.3 µm');
  });

  it('retained masses with a pan', () => {
    const found = points('Sieve opening (µm),Mass retained (g)\n250,10\n125,40\n63,30\npan,20');
    expect(found.map(([size]) => Math.round(size))).toEqual([63, 125, 250]);
    [0.2, 0.5, 0.9].forEach((share, i) => {
      close(found[i]![1], share, 1e-12);
    });
  });

  it('mid-points, class ranges, number basis', () => {
    const middle = points('mid size um;in-class vol %\n1;25\n2;50\n4;25');
    expect(middle.map(([size]) => size.toFixed(4))).toEqual(['0.7071', '1.4142', '2.8284', '5.6569']);
    expect(middle.map(([, share]) => share)).toEqual([0, 0.25, 0.75, 1]);
    const ranges = points('class (µm);volume %\n<1;10\n1-2;30\n2-4;50\n>4;10');
    expect(ranges.map(([, share]) => Number(share.toFixed(12)))).toEqual([0.1, 0.4, 0.9]);
    // by hand: shares 1/2, 1/4, 1/4 by number at middles √½, √2, √8 µm weigh 1, 8·½, 64·½ by volume
    const number = points('size upper um;number %\n1;50\n2;25\n4;25');
    close(number[0]![1], 1 / 37, 1e-9);
    close(number[1]![1], 5 / 37, 1e-9);
  });

  it('samples side by side, one under the other, and across', () => {
    const wide = read('size [µm]\tlot A\tlot B\n1\t2\t1\n5\t20\t18\n50\t100\t100', { basis: 'volume' });
    expect(wide.samples.map((sample) => sample.name)).toEqual(['lot A', 'lot B']);
    const long = read('sample,size um,undersize vol %\nA,1,2\nA,5,40\nA,10,100\nB,1,3\nB,5,44\nB,10,100');
    expect(long.samples.map((sample) => sample.points.length)).toEqual([3, 3]);
    const blocks = read(
      'size um;undersize vol %\n1;2\n5;40\n10;100\n\nsize um;undersize vol %\n1;3\n5;44\n10;100',
    );
    expect(blocks.samples.map((sample) => sample.points[0]!.undersize)).toEqual([0.02, 0.03]);
  });

  it('percentiles alone and one residue are valid', () => {
    const listed = read('D(v,0.1) = 10.3 µm\nD(v,0.5) = 94.0 µm\nD(v,0.9): 216.0 µm\nD[4,3] 106.0 µm')
      .samples[0]!;
    expect(listed.kind).toBe('percentiles');
    expect(listed.points.map((point) => point.undersize)).toEqual([0.1, 0.5, 0.9]);
    const table = read('Sample;d10 (µm);d50 (µm);d90 (µm)\nA;10,3;94;216\nB;9;108;281', { basis: 'volume' });
    close(table.samples[1]!.points[2]!.size, 281e-6, 1e-12);
    const residue = read('Sieve (µm);Residue (%)\n63;1,2').samples[0]!;
    expect(residue.kind).toBe('residues');
    close(residue.points[0]!.undersize, 0.988, 1e-12);
  });

  it('a sum that is not 100 % is reported', () => {
    const near = read('size upper um;volume in class %\n1;10\n2;30\n4;59').samples[0]!;
    expect(near.remarks.join()).toContain('sum to 99 %');
    const stated = points('size upper um;volume in class %\n1;10\n2;30\n4;55', { missing: 'coarse' });
    close(stated[2]![1], 0.95, 1e-12);
  });
});

describe('what is ambiguous is asked for by its option, never guessed', () => {
  const ASKED: readonly (readonly [string, string, ReadOptions])[] = [
    ['size;undersize vol %\n1;20\n2;60\n4;100', '--unit', { unit: 'um' }],
    ['size um;undersize %\n1;20\n2;60\n4;100', '--basis', { basis: 'volume' }],
    ['size um;in-class vol %\n1;10\n2;30\n4;60', '--sizes', { sizes: 'upper' }],
    ['size um;undersize vol %\n1,005;12,231\n1,151;40,100\n4,112;99,900', '--decimal', { decimal: 'comma' }],
    ['size upper um;volume in class %\n1;10\n2;30\n4;55', '--missing', { missing: 'fine' }],
    ['Sieve (mesh),Retained (%)\n60,1\n100,20\n200,60\npan,19', '--series', { series: 'astm-e11' }],
    ['Sieve (µm),Mass retained (g)\n250,10\n125,40\n63,30', '--total', { total: 100 }],
    ['10;20\n20;40\n40;100', '--columns', { columns: ['size um', 'undersize vol %'] }],
    ['Sieve (µm);Residue\n63;0,8', '--values', { values: 'percent' }],
    [
      'size um;amount %\n1;30\n2;20\n4;40',
      '--kind',
      { kind: 'in-class', sizes: 'upper', basis: 'volume', missing: 'fine' },
    ],
  ];
  for (const [text, option, answer] of ASKED) {
    it(option, () => {
      expect(faults(text).join('\n')).toContain(option);
      expect(read(text, answer).samples).toHaveLength(1);
    });
  }

  it('mesh of a series that does not know the number', () => {
    expect(
      faults('Sieve (mesh),Passing (%)\n150,20\n100,60\n60,99', { series: 'astm-e11' }).join(),
    ).toContain('no 150 mesh');
    close(points('Sieve (mesh),Passing (%)\n150,20\n100,60\n60,99', { series: 'bs-410' })[0]![0], 106, 1e-9);
    expect(faults('Sieve (mesh),Passing (%)\n140,20\n100,60', { series: 'iso-3310-1' }).join()).toContain(
      'by their opening',
    );
  });

  it('the comma as separator and decimal sign at once', () => {
    expect(faults('size um,undersize vol %\n1,5,20,3\n2,5,40,1\n4,0,99,9').join()).toContain('--separator');
  });

  it('files that hold nothing', () => {
    expect(faults('')).toEqual(['is empty']);
    expect(faults('hello world')).toEqual(['has no table of sizes and no percentiles']);
    expect(
      faults('size um;density distribution q3 1/µm\n1;0.1\n2;0.3\n4;0.2', { values: 'percent' }).join(),
    ).toContain('density');
  });
});

describe('densities are multiplied by the class width', () => {
  const SIZES = Array.from({ length: 20 }, (_, i) => 2 * 1.35 ** i);
  const under = (size: number): number => 1 / (1 + (43.7 / size) ** 3);
  const whole = under(SIZES[19]!) - under(SIZES[0]!);
  /** Classes between neighbouring sizes with the density of each, in percent. */
  const table = (heading: string, width: (low: number, high: number) => number, whole100 = 100): string =>
    [
      `lower size um;upper size um;${heading}`,
      ...SIZES.slice(1).map((high, i) => {
        const low = SIZES[i]!;
        return `${low};${high};${(whole100 * (under(high) - under(low))) / whole / width(low, high)}`;
      }),
    ].join('\n');
  const linear = (low: number, high: number) => high - low;
  test.each([
    ['q3 [%/um]', linear, 100],
    ['q3 density', linear, 100],
    ['q3 [1/µm]', linear, 1],
    ['Dichte q3 [µm^-1]', linear, 1],
    ['Verteilungsdichte', linear, 1],
    ['% per micron', linear, 100],
    ['dQ3/dx', linear, 1],
    ['q3 [%/mm]', (low: number, high: number) => (high - low) / 1000, 100],
    ['q3lg', (low: number, high: number) => Math.log10(high / low), 1],
    ['dQ/dlog x', (low: number, high: number) => Math.log10(high / low), 100],
    ['dQ3/d ln x', (low: number, high: number) => Math.log(high / low), 1],
  ] as const)('%s', (heading, width, hundred) => {
    const { points: found } = read(table(heading, width, hundred), { basis: 'volume' }).samples[0]!;
    for (const { size, undersize } of found)
      close(undersize + 1e-3, (under(size * 1e6) - under(SIZES[0]!)) / whole + 1e-3, 1e-6);
  });
  it('sizes alone need their place; a density in a heading of shares is named', () => {
    const bare = 'size um;q3 [%/um]\n1;10\n2;20\n4;10\n8;5';
    expect(faults(bare, { basis: 'volume' }).join()).toContain('--sizes');
    const wrong = table('volume in class %', linear);
    expect(faults(wrong).join()).toMatch(
      /as a density per µm, mm or nm they sum to 100 %: then state --kind density/,
    );
    expect(read(wrong, { kind: 'density' }).samples).toHaveLength(1);
  });
});

describe('words of headings and lines above them', () => {
  it('a line of two cells above the head hides no head', () => {
    for (const line of ['Sample Name:\tLot 3', 'Operator:\tMS', 'Sample Name:\tLot 3\nRun:\t7']) {
      const { samples } = read(`${line}\nSize (µm)\tVolume under (%)\n1\t2\n10\t50\n100\t100`);
      expect(samples[0]!.points.map(({ undersize }) => undersize)).toEqual([0.02, 0.5, 1]);
    }
  });
  it('air jet, Luftstrahlsiebung and ASTM E11 state method and series', () => {
    const jet = read('Luftstrahlsiebung\nMaschenweite [µm];Durchgang [%]\n32;20\n63;60\n125;100').samples[0]!;
    expect(jet.method).toBe('sieve');
    const mesh = read('Sieve mesh (ASTM E11);Passing [%]\n200;20\n100;60\n60;100').samples[0]!;
    expect(mesh.method).toBe('sieve');
    close(mesh.points[0]!.size, 75e-6, 1e-12);
    expect(read('sieben Proben, laser\nsize um;undersize vol %\n1;2\n5;40\n10;100').samples[0]!.method).toBe(
      'laser',
    );
  });
  it('a pan says that sizes are lower ends, and that they are sieves', () => {
    for (const pan of ['pan', 'Boden', '< 0.063']) {
      const { method, points: found } = read(
        `size mm;mass in class %\n0.25;10\n0.125;40\n0.063;30\n${pan};20`,
      ).samples[0]!;
      expect(method).toBe('sieve');
      expect(found.map(({ undersize }) => Number(undersize.toFixed(9)))).toEqual([0.2, 0.5, 0.9]);
    }
  });
  it('a number of a sample is no basis', () => {
    const text = 'Sample number: 12, serial number 7\nsize um;undersize %\n1;2\n5;40\n10;100';
    expect(faults(text).join()).toContain('--basis');
    expect(read(`number distribution\n${text}`).samples[0]!.basis).toBe('number');
  });
  it('masses beside a cumulative column are a check', () => {
    const text = (mass: number) =>
      `Sieve [mm];Mass [g];Passing [%]\n1;10;90\n0.5;${mass};60\n0.25;40;20\n0.125;15;5`;
    expect(read(text(30)).samples[0]!.remarks.join()).not.toContain('disagree');
    expect(faults(text(50)).join()).toMatch(/disagree by/);
  });
});

describe('a workbook', () => {
  it('is known by its content or by its name', () => {
    const bytes = Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0);
    for (const [content, name] of [
      [bytes, 'a.csv'],
      [new TextEncoder().encode('size um;passing %'), 'a.xlsx'],
    ] as const)
      expect(() => readMeasurement(content, name)).toThrow(/workbook.*save its sheet as CSV/);
  });
});

describe('sizes of inputs', () => {
  it.each([
    ['130 000 rows', `size um,passing %\n${'1,2\n'.repeat(130_000)}`, /more than 50000 lines/],
    ['100 001 columns', `${'x,'.repeat(100_001)}\n${'1,'.repeat(100_001)}`, /more than 2000 columns/],
  ])('%s are refused before anything is expanded', (_, text, message) => {
    const before = process.cpuUsage();
    expect(faults(text).join()).toMatch(message);
    expect(process.cpuUsage(before).user / 1e6).toBeLessThan(1);
  });
});
