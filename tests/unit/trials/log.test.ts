import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { loadScenario } from '../../../src/scenario/load.ts';
import { toCase } from '../../../src/scenario/operating-point.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { coverageOf } from '../../../src/trials/foretold.ts';
import { torqueFraction } from '../../../src/trials/log/amps.ts';
import { closureOf } from '../../../src/trials/log/balance.ts';
import { readLogHeading } from '../../../src/trials/log/columns.ts';
import { emptyLog } from '../../../src/trials/log/empty-log.ts';
import { readTrialLog, readTrialLogs } from '../../../src/trials/log/file.ts';
import { foretoldCell, readForetold } from '../../../src/trials/log/foretold-cell.ts';
import { close } from '../../close.ts';

let scenario: Scenario;
let folder: string;
const put = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const faultsOf = (run: Promise<unknown>): Promise<string> =>
  run.then(
    () => '',
    (error) => (error instanceof InputError ? error.message : Promise.reject(error)),
  );

beforeAll(async () => {
  scenario = await loadScenario(resolve(import.meta.dirname, '../../../scenarios/erythritol.yaml'));
  folder = mkdtempSync(join(tmpdir(), 'log-'));
  put('t1.csv', 'laser diffraction\nsize um;undersize vol %\n10;20\n40;60\n90;97\n200;100');
  put('t2.csv', 'laser diffraction\nsize um;undersize vol %\n10;24\n40;66\n90;98.5\n200;100');
  put('t1b.csv', 'laser diffraction\nsize um;undersize vol %\n10;22\n40;62\n90;98\n200;100');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a trial log', () => {
  test('a CSV in panel units, German decimals, repeats, masses', async () => {
    const path = put(
      'log.csv',
      [
        'Run;Rotor speed [rpm];Wheel;Wheel speed [Hz];Feed rate [kg/h];Power [kW];Idle power [kW];Outlet temperature (°C);Feed [kg];Product [kg];Filter [kg];Minutes;Sizes',
        'T1;5730;medium-leaning;25;150;6,1;2,4;34,5;10;9,7;0,2;4;t1.csv|t1b.csv',
        'T2;90 m/s;long-leaning;2000 rpm;150;6,4;2,4;35;10;7,5;0,2;4;t2.csv',
      ].join('\n'),
    );
    const { trials } = await readTrialLog(path, scenario);
    const [first, second] = trials;
    const c = toCase(first!.scenario);
    close(c.settings.rotorSpeed, 95.5, 1e-12);
    close(c.settings.wheelSpeed, 25, 1e-12);
    close(c.settings.feedRate, 150 / 3600, 1e-12);
    close(toCase(second!.scenario).settings.rotorSpeed, 90 / (Math.PI * 0.3), 1e-12);
    expect(second!.scenario.settings.wheel).toBe('long-leaning');
    expect([first!.repeats, second!.repeats]).toEqual([2, 1]);
    close(first!.sizes!.points[0]!.undersize, 0.21, 1e-12);
    close(first!.power!.value, 6100, 1e-12);
    close(first!.idlePower!, 2400, 1e-12);
    close(first!.outletTemperature!, 307.65, 1e-12);
    expect(first!.closure!.closes).toBe(true);
    expect(first!.flags).toEqual([]);
    expect(second!.closure!.closes).toBe(false);
    expect(second!.flags.join()).toContain('masses do not close: -23.0 %');
  });

  test('YAML with defaults, amps of a stated motor, rate from mass and minutes', async () => {
    const path = put(
      'log.yaml',
      [
        'motor: { noLoadCurrent: 10 A, ratedCurrent: 28 A }',
        'defaults: { wheel: medium-leaning, rotorSpeed: 5000 rpm, airFlow: 1400 m^3/h }',
        'trials:',
        '  - { trial: A, wheelSpeed: 25 Hz, feed: 10 kg, minutes: 4 min, current: 19 A, sizes: [t1.csv, t1b.csv] }',
        '  - { trial: B, wheelSpeed: 30 Hz, feed: 10 kg, minutes: 4 min, current: 9 A }',
      ].join('\n'),
    );
    const { trials } = await readTrialLog(path, scenario);
    close(toCase(trials[0]!.scenario).settings.feedRate, 10 / 240, 1e-12);
    close(trials[0]!.scenario.air.flow, 1400 / 3600, 1e-12);
    // by hand: sqrt((19² − 10²)/(28² − 10²)) of 15 kW at base speed
    close(trials[0]!.power!.value, 15000 * Math.sqrt(261 / 684), 1e-12);
    expect(trials[0]!.power!.error).toBeGreaterThan(0.1);
    expect(trials[1]!.power).toBeUndefined();
    expect(trials[1]!.flags.join()).toContain('not above the motor’s no-load current');
  });

  test('every fault at once, each with its place', async () => {
    const path = put(
      'bad.yaml',
      'trials:\n  - { wheelSpeed: 25, wheel: medium-lean, power: 6 kg, sizes: none.csv }\n  - { current: 19 A, feed: -1 kg }',
    );
    const message = await faultsOf(readTrialLog(path, scenario));
    for (const part of [
      'trials[0] wheelSpeed',
      'medium-leaning',
      'trials[0] power',
      'none.csv',
      '--noLoadCurrent',
      'feed: must be ≥ 1e-6 kg, is -1 kg',
    ])
      expect(message).toContain(part);
    expect(await faultsOf(readTrialLog(put('x.csv', 'a,b\n1,2'), scenario))).toContain(
      'has no row of headings',
    );
    expect(
      await faultsOf(readTrialLog(put('y.csv', 'trial;power [kW];wheel sped [rpm]\n1;6;1500'), scenario)),
    ).toContain('"wheel sped [rpm]" is no column of a trial log; did you mean wheelSpeed?');
  });

  test.each([
    [
      'constructor as an error',
      'a.yaml',
      'errors: { constructor: 1 % }\ntrials: [ { power: 6 kW } ]',
      /errors\.constructor: is not known here/,
    ],
    [
      'a reading of the parser',
      'a.yaml',
      'reading: { toString: laser }\ntrials: [ { power: 6 kW } ]',
      /reading\.toString: is not known here/,
    ],
    ['a block that is none', 'a.yaml', 'motor: 5\ntrials: []', /motor: must be a block of keys/],
    ['runs that are none', 'a.yaml', 'trials: many', /trials: must be a list/],
    ['a run that is none', 'a.yaml', 'trials: [ 5 ]', /trials\[0\]: must be a block of keys, one run/],
    ['a whole file that is a list', 'a.yaml', '- 5', /must be a block of keys, with trials/],
    ['a tag', 'a.yaml', 'title: !!js/function "x"', /not readable as YAML: Unresolved tag/],
    ['an alias', 'a.yaml', 'title: &a x\ntrials: [ *a ]', /must not use aliases/],
    ['a key that is a list', 'a.yaml', '? [a]\n: 5', /not readable as YAML/],
    [
      'a motor without a name',
      'a.yaml',
      'motor: { noLoad: 5 A }\ntrials: [ { power: 6 kW } ]',
      /motor\.noLoad: is not known here/,
    ],
    ['a speed of nothing', 'a.csv', 'trial;rotor speed [rpm];power [kW]\n1;0;6', /rotorSpeed: must be > 0/],
    [
      'a speed beyond the machine',
      'a.csv',
      'trial;rotor speed [rpm];power [kW]\n1;1e6;6',
      /must be at most 7200 rpm/,
    ],
    ['a wheel of the parser', 'a.csv', 'trial;wheel;wheel speed [rpm]\n1;constructor;5e6', /must be a wheel/],
    ['infinite power', 'a.csv', 'trial;power [kW]\n1;1e308', /power: must be (a finite number|≤)/],
    ['a feed of 1e-30 kg', 'a.csv', 'trial;feed [kg];product [kg]\n1;1e-30;1', /feed: must be ≥ 1e-6 kg/],
  ])('%s is refused', async (_, name, text, message) => {
    expect(await faultsOf(readTrialLog(put(name, text), scenario))).toMatch(message);
  });

  test('a run that yielded nothing has no share in the filter', async () => {
    const log = put('nothing.csv', 'trial;feed [kg];product [kg];power [kW]\n1;5;0;6');
    const { trials } = await readTrialLog(log, scenario);
    expect(trials[0]!.closure).toMatchObject({ gap: -1, filterShare: 0, closes: false });
  });

  test('a power of 0 under load is a meter nobody read, said and not used', async () => {
    const log = put('unread.csv', 'trial;power [kW];sizes\n1;0;t1.csv\n2;6;t2.csv');
    const { trials } = await readTrialLog(log, scenario);
    expect(trials[0]!.power).toBeUndefined();
    expect(trials[0]!.flags.join()).toMatch(/power under load is 0: taken as not measured/);
    expect(trials[1]!.power?.value).toBe(6000);
  });

  test('a size of 1e80 µm is a slip', async () => {
    put('far.csv', 'laser diffraction\nsize um;undersize vol %\n10;20\n40;60\n1e80;100');
    expect(
      await faultsOf(readTrialLog(put('far-log.yaml', 'trials: [ { sizes: far.csv } ]'), scenario)),
    ).toMatch(/must hold sizes up to 10 m/);
  });

  test('laser and sieve are mixed only by a stated factor', async () => {
    put('laser.csv', 'laser diffraction\nsize um;undersize vol %\n10;20\n40;60\n90;97\n200;100');
    put('sieve.csv', 'Sieve opening (µm),Mass retained (g)\n250,10\n125,40\n63,30\npan,20');
    const log = put('mixed.yaml', 'trials:\n  - { sizes: laser.csv }\n  - { sizes: sieve.csv }');
    expect(await faultsOf(readTrialLog(log, scenario))).toContain('laserToSieve');
    const { trials } = await readTrialLog(log, scenario, { laserToSieve: 1.2 });
    close(trials[1]!.sizes!.points[0]!.size, 1.2 * 63e-6, 1e-12);
    expect(trials[1]!.sizes!.method).toBe('laser');
  });

  test('headings by many names', () => {
    expect(readLogHeading('Wheel speed [Hz]').column!.name).toBe('wheelSpeed');
    expect(readLogHeading('outlet temperature (degC)').unit).toBe('degC');
    expect(readLogHeading('Amps').column!.name).toBe('current');
    expect(readLogHeading('colour').column).toBeUndefined();
  });
});

describe('what a real log holds', () => {
  test('columns of its own are kept as remarks and named once, a heading over two lines too', async () => {
    const log = put(
      'own.csv',
      'trial;power [kW];colour;"gap\n\nliner";remarks\n1;6;red;3;warm\n2;6.1;blue;;',
    );
    const { trials, ignored } = await readTrialLog(log, scenario);
    expect(ignored).toEqual(['colour', 'gap liner']);
    expect(trials[0]!.remarks).toEqual({ remarks: 'warm', colour: 'red', 'gap liner': '3' });
  });

  test('German headings, a line of units, notes', async () => {
    const log = put(
      'deutsch.csv',
      '# Tag 1\nVersuch;Rotordrehzahl;Sichterrad;Sichterdrehzahl;Aufgabe [kg/h];Luftmenge;Leistung;Leerlaufleistung;Austrittstemperatur;Größendatei;Bemerkung\n;1/min;;1/min;;m³/h;kW;kW;°C;;\n1;5730;medium-leaning;1500;150;1400;6,1;2,4;34,5;t1.csv;warm',
    );
    const { trials } = await readTrialLog(log, scenario);
    expect(trials).toHaveLength(1);
    const c = toCase(trials[0]!.scenario);
    close(c.settings.rotorSpeed, 95.5, 1e-12);
    close(c.settings.feedRate, 150 / 3600, 1e-12);
    close(trials[0]!.scenario.air.flow, 1400 / 3600, 1e-12);
    close(trials[0]!.power!.value, 6100, 1e-12);
    close(trials[0]!.outletTemperature!, 307.65, 1e-12);
    expect(trials[0]!.sizes!.method).toBe('laser');
  });

  test('method, unit and basis of each size file', async () => {
    put('bare.csv', 'size;undersize %\n0.063;20\n0.125;60\n0.25;99.9');
    const log = put('own-method.csv', 'trial;sizes;method;unit;basis\n1;bare.csv;Siebung;mm;Masse');
    const { sizes } = (await readTrialLog(log, scenario)).trials[0]!;
    expect([sizes!.method, sizes!.basis]).toEqual(['sieve', 'mass']);
    close(sizes!.points[0]!.size, 63e-6, 1e-12);
    const wrong = put('wrong-method.csv', 'trial;sizes;method\n1;bare.csv;guess');
    expect(await faultsOf(readTrialLog(wrong, scenario))).toContain(
      'method: must be laser | sieve, is "guess"',
    );
  });

  test('several logs are one; runs of one name are named after their log', async () => {
    const monday = put('monday.csv', 'trial;power [kW];sizes\n1;6;t1.csv\n2;6.1;');
    const tuesday = put('tuesday.csv', 'trial;power [kW];shift\n1;6.2;early');
    const log = await readTrialLogs([monday, tuesday], scenario);
    expect(log.trials.map(({ name }) => name)).toEqual(['monday 1', '2', 'tuesday 1']);
    expect(log.ignored).toEqual(['shift']);
    expect(await faultsOf(readTrialLogs([monday, monday], scenario))).toContain('this log is given twice');
  });

  test('an empty log read back holds the settings and what was foretold; filled in, the readings inside are counted', async () => {
    const band = (low: number, median: number, high: number) => ({ low, median, high });
    const readings = {
      power: band(5000, 6000, 7000),
      temperature: band(303.15, 308.15, 318.15),
      x50: band(30e-6, 40e-6, 55e-6),
      x95: band(60e-6, 75e-6, 90e-6),
    };
    const empty = emptyLog([{ name: '1', scenario, readings }]);
    const [head, units, line] = empty.split('\n').map((one) => one.split(','));
    expect(units![head!.indexOf('power')]).toBe('kW');
    const before = (await readTrialLog(put('empty.csv', empty), scenario)).trials[0]!;
    close(toCase(before.scenario).settings.rotorSpeed, toCase(scenario).settings.rotorSpeed, 1e-4);
    expect(coverageOf([before])).toMatchObject({ inside: 0, of: 0 });
    const fill = (cells: Record<string, string>) =>
      line!.map((cell, i) => cells[head![i]!] ?? cell).join(',');
    const filled = `${head!.join(',')}\n${units!.join(',')}\n${fill({ power: '6.9', outletTemperature: '46', sizes: 't1.csv' })}\n`;
    const {
      readings: held,
      inside,
      of,
    } = coverageOf((await readTrialLog(put('filled.csv', filled), scenario)).trials);
    // by hand: t1.csv has x50 at 10·4^(3/4) = 28.3 µm, below 30; x95 lies between 60 and 90
    expect(held.map((one) => [one.reading, one.inside])).toEqual([
      ['power', true],
      ['outletTemperature', false],
      ['x50', false],
      ['x95', true],
    ]);
    expect([inside, of]).toEqual([2, 4]);
    close(held[2]!.measured, 10 * 4 ** 0.75, 1e-9);
    close(held[0]!.high, 7, 1e-3);
  });

  test('the lines README shows are a log', async () => {
    const text = /```csv\n([\s\S]*?)```/.exec(readFileSync('README.md', 'utf8'))![1]!;
    for (const [i, name] of ['run-1', 'run-2a', 'run-2b', 'run-3'].entries())
      put(`${name}.csv`, `size um;undersize vol %\n10;${20 + i}\n40;${60 + i}\n90;97\n200;100`);
    const { trials, ignored } = await readTrialLog(put('readme.csv', text), scenario);
    expect(trials).toHaveLength(4);
    expect(ignored).toEqual([]);
    expect(trials[1]!.repeats).toBe(2);
    close(trials[2]!.foretold.x50!.high, 36.2e-6, 1e-12);
  });

  test('what was foretold comes back as bands in SI', async () => {
    const band = { low: 15100, median: 18200, high: 21600 };
    expect(foretoldCell(band, 'kW')).toBe('18.2 (15.1..21.6)');
    const log = put(
      'told.csv',
      'trial,power,foretoldPower,foretoldX50\n,kW,kW,um\n1,6,18.2 (15.1..21.6),40 (30..55)',
    );
    const { foretold } = (await readTrialLog(log, scenario)).trials[0]!;
    close(foretold.power!.low, 15100, 1e-12);
    close(foretold.power!.median, 18200, 1e-12);
    close(foretold.power!.high, 21600, 1e-12);
    close(foretold.x50!.high, 55e-6, 1e-12);
    expect(readForetold('18.2', 'W', 'kW')).toBeUndefined();
  });
});

describe('mass balance of a run', () => {
  test('the splitter of 100/61/36 with variances 4/1/1 closes at 98, 61.5, 36.5 with χ² 1.5 (derived)', () => {
    const closure = closureOf(
      { feed: 100, product: 61, filter: 36 },
      { feed: 0.02, product: 1 / 61, filter: 1 / 36, metered: 1 },
    );
    [98, 61.5, 36.5].forEach((mass, i) => {
      close(closure.reconciled[i]!, mass, 1e-12);
    });
    close(closure.statistic, 1.5, 1e-12);
    expect(closure.closes).toBe(true);
  });

  test('the mass that disagrees with all others is named', () => {
    const closure = closureOf({ feed: 10, product: 11.6, filter: 0.2, metered: 11.9 });
    expect(closure.closes).toBe(false);
    expect(closure.suspect).toBe('feed');
  });
});

test('amps (eq. 24a): rated current is full torque, no-load current none', () => {
  const motor = { noLoad: 10, rated: 28 };
  close(torqueFraction(28, motor).fraction, 1, 1e-12);
  close(torqueFraction(28, motor).error, 0.1, 1e-12);
  expect(torqueFraction(10, motor).fraction).toBe(0);
  expect(torqueFraction(12, motor).error).toBeGreaterThan(0.25);
});
