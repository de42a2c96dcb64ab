import { describe, expect, test } from 'vitest';
import { parseRange, parseValue, type Value } from '../../../src/scenario/units/parse-quantity.ts';
import { isProblem, type Problem } from '../../../src/scenario/units/unit-problem.ts';
import { close } from '../../close.ts';

const LENGTH = { unit: 'm', shownIn: 'mm' };
const SHAFT = { unit: '1/s', shownIn: 'rpm' };
const PURE = { unit: '1', shownIn: '1' };
const of = (unit: string, shownIn = unit) => ({ unit, shownIn });

function value(result: Value | Problem): number {
  if (isProblem(result)) throw new Error(result.problem);
  return result.value;
}

describe('a number with its unit becomes SI', () => {
  // Factors: exact definitions of the SI brochure (inch, pound, litre, degree, °C, °F, minute, hour); `derived`.
  test.each([
    ['1500 m³/h', of('m^3/s'), 1500 / 3600],
    ['1500 m3/h', of('m^3/s'), 1500 / 3600],
    ['1500 m^3/h', of('m^3/s'), 1500 / 3600],
    ['25 L/min', of('m^3/s'), 25e-3 / 60],
    ['100 cfm', of('m^3/s'), (100 * 0.3048 ** 3) / 60],
    ['75 um', LENGTH, 75e-6],
    ['75 µm', LENGTH, 75e-6],
    ['75 μm', LENGTH, 75e-6],
    ['75 mu', LENGTH, 75e-6],
    ['75 micron', LENGTH, 75e-6],
    ['75um', LENGTH, 75e-6],
    ['2 in', LENGTH, 0.0508],
    ['2 inch', LENGTH, 0.0508],
    ['1e2 mm', LENGTH, 0.1],
    ['.5 mm', LENGTH, 5e-4],
    ['1500 rpm', SHAFT, 25],
    ['1500 1/min', SHAFT, 25],
    ['20 degC', of('K', 'degC'), 293.15],
    ['20 °C', of('K', 'degC'), 293.15],
    ['20°C', of('K', 'degC'), 293.15],
    ['68 °F', of('K', 'degC'), 293.15],
    ['293.15 K', of('K', 'degC'), 293.15],
    ['16 degC', of('K', 'K'), 16],
    ['50 %', PURE, 0.5],
    ['50%', PURE, 0.5],
    ['250 ppm', PURE, 250e-6],
    ['3 g/kg', PURE, 3e-3],
    ['12', PURE, 12],
    ['30 deg', of('rad', 'deg'), Math.PI / 6],
    ['30°', of('rad', 'deg'), Math.PI / 6],
    ['0.9 kg/(J m)', of('kg/(J m)'), 0.9],
    ['0.9 kg/J/m', of('kg/(J m)'), 0.9],
    ['0.9 kg J⁻¹ m⁻¹', of('kg/(J m)'), 0.9],
    ['0.025 J m/kg', of('J m/kg'), 0.025],
    ['0.025 J·m/kg', of('J m/kg'), 0.025],
    ['1.35 kJ/(kg·K)', of('J/(kg K)'), 1350],
    ['1.45 g/cm3', of('kg/m^3'), 1450],
    ['30 kWh/t', of('J/kg'), 108000],
    ['0.3 t/h', of('kg/s'), 300 / 3600],
    ['1 lb', of('kg'), 0.45359237],
    ['−5 degC', of('K', 'degC'), 268.15],
  ] as const)('%s', (text, wanted, si) => {
    close(value(parseValue(text, wanted)), si, 1e-12);
  });

  test('horse power, 550 ft lbf/s, which the unit library rounds', () => {
    close(value(parseValue('20 hp', of('W', 'kW'))), 20 * 550 * 0.3048 * 0.45359237 * 9.80665, 1e-10);
  });

  // ASTM E11 openings, as in the sieve standards ISO 3310-1 (recalled).
  test.each([
    ['100 mesh', 150],
    ['140 mesh', 106],
    ['170 mesh', 90],
    ['200 mesh', 75],
    ['mesh 230', 63],
    ['No. 270', 53],
    ['325 MESH', 45],
    ['400 mesh', 38],
  ] as const)('%s is %d µm', (text, micrometres) => {
    close(value(parseValue(text, LENGTH)), micrometres * 1e-6, 1e-12);
  });
});

describe('what cannot be read is said in words with a remedy', () => {
  test.each([
    ['25 Hz', SHAFT, /not a shaft speed.*machine\.drives/],
    ['157 rad/s', SHAFT, /speed of rotation.*rpm/],
    ['0,5 mm', LENGTH, /^use a decimal point and no thousands separator: 0\.5 mm, not 0,5 mm$/],
    ['1,500 mm', LENGTH, /: 1500 mm or 1\.500 mm, not 1,500 mm$/],
    ['1.500,5 mm', LENGTH, /: 1500\.5 mm, not 1\.500,5 mm$/],
    ['1,500,000 mm', LENGTH, /: 1500000 mm, not 1,500,000 mm$/],
    ['5', LENGTH, /^has no unit; write 5 mm$/],
    ['0', of('rad', 'deg'), /^has no unit; write 0 deg$/],
    ['5 kg', LENGTH, /must be a length, but kg/],
    ['5 mm', PURE, /must be a pure number, but mm/],
    ['5 %', LENGTH, /must be|known/],
    ['5 parsnips', LENGTH, /^unknown unit parsnips; write for example m, cm, mm$/],
    ['300 KG/H', of('kg/s'), /write kg\/h/],
    ['20 C', of('K', 'degC'), /write degC/],
    ['1 ton', of('kg'), /write t \(1000 kg\) or lb/],
    ['1 500 mm', LENGTH, /^must be one number without spaces in it, is "1 500 mm"$/],
    ['77 mesh', LENGTH, /nearest is 80 mesh/],
    ['200 mesh', of('kg'), /sieve size/],
    ['1e999 mm', LENGTH, /finite/],
    ['', LENGTH, /is empty/],
    ['mm', LENGTH, /must be a length with its unit/],
    ['5 __proto__', LENGTH, /^unknown unit /],
    [`5 ${'m'.repeat(500)}`, LENGTH, /characters/],
    ['NaN mm', LENGTH, /must be a length/],
    ['0x10 mm', LENGTH, /^unknown unit /],
  ] as const)('%s', (text, wanted, message) => {
    const result = parseValue(text, wanted);
    expect(isProblem(result)).toBe(true);
    expect((result as Problem).problem).toMatch(message);
  });
});

describe('ranges', () => {
  test.each(['50..70 mm', '50 .. 70 mm', '50 mm .. 70 mm', '50 mm..7 cm', '50…70 mm'])('%s', (text) => {
    const range = parseRange(text, LENGTH)!;
    if (isProblem(range)) throw new Error(range.problem);
    close(range.low.value, 0.05, 1e-12);
    close(range.high.value, 0.07, 1e-12);
  });
  test('run from low to high and are of one kind', () => {
    expect((parseRange('70..50 mm', LENGTH) as Problem).problem).toMatch(/low to high/);
    expect((parseRange('50..70', LENGTH) as Problem).problem).toMatch(/^has no unit; write 70 mm$/);
    expect(parseRange('60 mm', LENGTH)).toBeUndefined();
  });
});
