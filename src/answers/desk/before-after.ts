import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import type { Band } from '../../trials/fit/quantile.ts';
import { expectedReadings } from '../../trials/readings.ts';
import { type AnswerTable, columns } from '../document.ts';
import { band } from '../next/run-sheet.ts';
import { chokingOf, oddsOf, probabilityOf } from '../odds.ts';

/** What the settings of the case are expected to give, without the calibration and with it. */
export function beforeAfter(before: Scenario, after: Scenario): AnswerTable {
  const [first, second] = [before, after].map((one) => expectedReadings(one, posteriorOf(one)));
  const width = ({ low, high }: Band, unit: string) => toShown(high, unit) - toShown(low, unit);
  const row = (name: string, of: 'power' | 'temperature' | 'x50' | 'x95', unit: string) => [
    name,
    band(first![of], unit),
    band(second![of], unit),
    `${Math.round((100 * width(second![of], unit)) / width(first![of], unit))} %`,
  ];
  const odds = [before, after].map((one) => oddsOf(one));
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  return {
    columns: columns('reading', 'before', 'after', 'band left'),
    rows: [
      row('rotor power, kW', 'power', 'kW'),
      row('outlet, °C', 'temperature', 'degC'),
      row('x50, µm', 'x50', 'um'),
      row('x95, µm', 'x95', 'um'),
      ...(after.spec.length > 0
        ? [['probability of meeting the spec', ...odds.map((each) => percent(probabilityOf(each))), '–']]
        : []),
      ['probability of choking', ...odds.map((each) => percent(chokingOf(each))), '–'],
    ],
    notes: ['Median with the 95 % band, at the settings of the case.'],
  };
}
