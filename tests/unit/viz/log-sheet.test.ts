import { expect, test } from 'vitest';
import { fileFacts } from '../../../src/answers/desk/file-facts.ts';
import { readLogText } from '../../../src/trials/log/rows.ts';
import { LogSheet } from '../../../src/viz/page/log-sheet.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const LOG =
  '# kept by hand\ntrial;wheel speed [Hz];feed rate [kg/h];power [kW];sizes;my note\nA;30;200;5,8;a.csv;"x;y"\n';

test('a log that is only looked at is written as it reads, notes and columns of its own included', () => {
  const sheet = LogSheet.of({ 'monday.csv': bytes(LOG) })!;
  expect(sheet.name).toBe('monday.csv');
  expect(sheet.text).toBe(LOG);
});

test('a planned run goes in with units where the columns have others, under a name that is free', () => {
  const sheet = LogSheet.of({ 'log.csv': bytes(LOG.replace('\nA;', '\n2;')) })!;
  sheet.addPlanned({ trial: '1', wheelSpeed: '1800', feedRate: '150', foretoldPower: '6.1 (5.0..7.4)' });
  const { rows } = readLogText(bytes(sheet.text), 'log.csv');
  expect(rows.at(-1)!.cells).toEqual({
    trial: '3',
    wheelSpeed: '1800 rpm',
    feedRate: '150 kg/h',
    foretoldPower: '6.1 (5.0..7.4)',
  });
});

test('a size file belongs to one run, and leaves the one it was laid to by mistake', () => {
  const sheet = LogSheet.of({})!;
  const [first, second] = [sheet.add(), sheet.add()];
  sheet.assign('a.csv', first);
  sheet.assign('b.csv', first);
  sheet.assign('a.csv', second);
  expect([first, second].map((row) => sheet.filesOf(row))).toEqual([['b.csv'], ['a.csv']]);
});

test('what a size file leaves open is asked, and answered by a column of its row', () => {
  const size = bytes('size,percent\n10,20\n20,50\n40,80\n80,100\n');
  const sheet = LogSheet.of({})!;
  sheet.assign('s.csv', sheet.add());
  const facts = () =>
    fileFacts({ text: 'title: x', files: { 'log.csv': bytes(sheet.text), 's.csv': size } })[1]!;
  const asked = facts().questions.map(({ option }) => option);
  expect(asked).toEqual(['unit', 'basis']);
  sheet.put(0, 'unit', 'um');
  sheet.put(0, 'basis', 'volume');
  sheet.put(0, 'sizeKind', 'undersize');
  expect(facts().questions).toEqual([]);
  expect(facts().understood[0]).toMatch(/^4 classes, 10–80 µm, cumulative undersize, volume %/);
});
