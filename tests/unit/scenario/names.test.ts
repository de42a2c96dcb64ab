import { describe, expect, test } from 'vitest';
import { columnHead } from '../../../src/sweep/study/column-name.ts';
import { faultsOf, read, scenarioText } from './reading.ts';

const machine = (wheels: string) => `{ from: pilot-300, wheels: ${wheels} }`;

describe('a name of the user means nothing to the program', () => {
  test.each(['points', 'value', 'file', 'percentiles', 'law', 'rotor', 'machine', 'openArea'])(
    'a wheel named %s leaves the other wheels of the machine',
    (name) => {
      const { wheels } = read({ machine: machine(`{ ${name}: { from: medium-leaning } }`) }).machine;
      expect(Object.keys(wheels)).toEqual(expect.arrayContaining([name, 'medium-leaning', 'medium-radial']));
      expect(wheels[name]).toEqual(wheels['medium-leaning']);
    },
  );
  test('a job of one key named number keeps it', () => {
    expect(read({ job: '{ number: LOT-A }' }).job).toEqual({ number: 'LOT-A' });
  });
});

describe('a name in any script', () => {
  test.each(['Rädchen', 'лопатка-24', '叶轮_2', 'عجلة', 'roue-inclinée', 'Ω'])('%s', (name) => {
    const settings = `{ rotorSpeed: 90 m/s, wheel: ${name}, wheelSpeed: 2000 rpm, feedRate: 150 kg/h }`;
    const scenario = read({ machine: machine(`{ ${name}: { from: medium-leaning } }`), settings });
    expect(scenario.settings.wheel).toBe(name);
    expect(columnHead(`machine.wheels.${name}.geometry.height`, 'mm')).toContain(name.replace('-', '_'));
  });
  test('typed with composed and with separate marks is one name', () => {
    const settings = '{ rotorSpeed: 90 m/s, wheel: Ra\u0308dchen, wheelSpeed: 2000 rpm, feedRate: 150 kg/h }';
    const wheels = machine('{ R\u00e4dchen: { from: medium-leaning } }');
    expect(read({ machine: wheels, settings }).settings.wheel).toBe('R\u00e4dchen');
  });
  test.each([
    ['"two words"', 'a blank'],
    ['a.b', '"."'],
    ['a/b', '"/"'],
    ['"a:b"', '":"'],
    ['"<b>"', '"<", ">"'],
  ])('%s is refused, and the signs are named', (name, signs) => {
    const [fault] = faultsOf(scenarioText({ machine: machine(`{ ${name}: { from: medium-leaning } }`) }));
    expect(fault).toContain('must have a name of letters (of any script), digits, - and _');
    expect(fault).toContain(`it has ${signs}`);
  });
});

test('a chain of 3000 wheels is refused at once: their number is looked at before they are laid out', () => {
  const names = Array.from({ length: 3000 }, (_, k) => `w${k}: { from: w${k + 1} }`);
  const start = process.cpuUsage();
  const faults = faultsOf(
    scenarioText({ machine: machine(`{ ${names.join(', ')} }`).replace(/, w/g, ',\n  w') }),
  );
  const { user } = process.cpuUsage(start);
  expect(faults.join('\n')).toContain('must name 1 to 50 wheels');
  expect(user / 1e6).toBeLessThan(1);
});

test('a title is one line', () => {
  expect(read({ title: '"one\\ntwo"' }).title).toBe('one two');
});
