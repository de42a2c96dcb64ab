import { strToU8, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { campaignFrom, campaignJson, campaignZip } from '../../../src/viz/desk/campaign.ts';

const CASE = {
  text: 'title: A case\n',
  files: { 'log.csv': strToU8('trial\n1\n'), 'rün 1.csv': strToU8('x') },
};
const opened = (entries: Record<string, string>) =>
  campaignFrom(
    'folder.zip',
    zipSync(Object.fromEntries(Object.entries(entries).map(([name, text]) => [name, strToU8(text)]))),
  );

test('a campaign comes back from its folder and from its file with every byte', () => {
  expect(campaignFrom('a.zip', campaignZip(CASE))).toEqual(CASE);
  expect(campaignFrom('a.json', strToU8(campaignJson(CASE, '1')))).toEqual(CASE);
});

test('a folder inside the .zip is taken, with what the system put beside it left out', () => {
  const { text, files } = opened({
    'visit/case.yaml': CASE.text,
    'visit/log.csv': 'trial\n',
    'visit/.DS_Store': 'x',
    '__MACOSX/visit/._log.csv': 'x',
  });
  expect(text).toBe(CASE.text);
  expect(Object.keys(files)).toEqual(['log.csv']);
});

test.each([
  ['in a sub-folder', 'visit/sizes/run-1.csv'],
  ['outside the folder of the case', 'run-1.csv'],
  ['with a name no system takes', 'visit/run:1.csv'],
])('a file %s is named, not dropped', (_, name) => {
  expect(() => opened({ 'visit/case.yaml': CASE.text, [name]: 'x' })).toThrow(
    `this .zip holds files that a campaign cannot take: ${name}; put them next to case.yaml, with plain names, or take them out`,
  );
});
