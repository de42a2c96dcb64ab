import { isMap, isScalar, parseDocument } from 'yaml';
import { describeFault, InputError } from '../../scenario/errors.ts';
import { percentileOf } from '../../scenario/measurement/measured-curve.ts';
import { readMeasurement } from '../../scenario/measurement/read-measurement.ts';
import { CHOICES, type ReadOptions } from '../../scenario/measurement/reading-questions.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { type LogRow, readLogText } from '../../trials/log/rows.ts';
import { statedInRow } from '../../trials/log/size-files.ts';
import { entryKind, isCalibration, isEntry, isLog, logNameIn } from './campaign-log.ts';
import type { CaseFiles } from './desk-files.ts';

/** Something a measured file leaves open, and what can be chosen. */
export interface FileQuestion {
  readonly option: string;
  readonly words: string;
  /** None where the answer is no choice but a number or a list. */
  readonly choices: readonly string[];
}

/** A file of the campaign as it was understood. */
export interface FileFacts {
  readonly name: string;
  readonly kind: 'log' | 'calibration' | 'entry' | 'sizes';
  /** What the case uses it for: the feed, and runs of the log by their names. */
  readonly feed: boolean;
  readonly runs: readonly string[];
  /** A sentence a sample: what was read, and its percentiles. */
  readonly understood: readonly string[];
  /** What to look at. */
  readonly remarks: readonly string[];
  readonly questions: readonly FileQuestion[];
  readonly faults: readonly string[];
}

const SHARES = [0.1, 0.5, 0.9, 0.95] as const;

/** Every file of a campaign: what it is, what was read from it, and what it leaves open. */
export function fileFacts({ text, files }: CaseFiles): FileFacts[] {
  const rows = rowsOfLog(files);
  const feed = feedBlock(text);
  const log = logNameIn(files);
  return Object.entries(files).map(([name, bytes]) => {
    const using = rows.filter((row) => row.files.includes(name));
    const asFeed = feed.file === name;
    const base = {
      name,
      feed: asFeed,
      runs: using.map(({ cells, place }) => cells.trial ?? place),
      understood: [],
      remarks: [],
      questions: [],
      faults: [],
    };
    if (isCalibration(bytes)) return { ...base, kind: 'calibration' };
    if (isEntry(name, bytes)) return { ...base, kind: 'entry', remarks: [`a ${entryKind(bytes)}`] };
    if (isLog(name, bytes)) {
      const second = name === log ? [] : [`${log} is the log in use; remove it to use this one`];
      return { ...base, kind: 'log', remarks: second };
    }
    const options = asFeed ? feed.options : using[0] ? statedInRow(using[0], []) : {};
    return { ...base, kind: 'sizes', ...readAs(name, bytes, options) };
  });
}

type Read = Pick<FileFacts, 'understood' | 'remarks' | 'questions' | 'faults'>;

function readAs(name: string, bytes: Uint8Array, options: ReadOptions): Read {
  try {
    const { samples, unread } = readMeasurement(bytes, name, options, 'choices');
    return {
      understood: samples.map((sample) => {
        const sizes = SHARES.map((share) => [share, percentileOf(sample, share)] as const)
          .filter(([, size]) => Number.isFinite(size))
          .map(([share, size]) => `x${100 * share} ${formatNumber(size * 1e6, 3)}`);
        const at = sizes.length > 0 ? `: ${sizes.join(', ')} µm` : '';
        return `${samples.length > 1 ? `${sample.name}: ` : ''}${sample.understood}${at}`;
      }),
      remarks: [...samples.flatMap(({ remarks }) => remarks), ...unread.map((each) => `not read: ${each}`)],
      questions: [],
      faults: [],
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const questions = error.faults.flatMap((fault): FileQuestion[] => {
      if (!('option' in fault)) return [];
      const option = String(fault.option);
      const choices = (CHOICES as Readonly<Record<string, readonly string[]>>)[option] ?? [];
      return [{ option, words: fault.message, choices }];
    });
    const once = [...new Map(questions.map((each) => [each.option, each])).values()];
    const faults = error.faults.filter((fault) => !('option' in fault)).map(describeFault);
    return { understood: [], remarks: [], questions: once, faults };
  }
}

/** Rows of the log; none where it cannot be read. */
function rowsOfLog(files: CaseFiles['files']): readonly LogRow[] {
  const name = logNameIn(files);
  if (name === undefined) return [];
  try {
    return readLogText(files[name]!, name).rows;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return [];
  }
}

/** The file a feed is read from, and what the block states of it. */
function feedBlock(text: string): { readonly file?: string; readonly options: ReadOptions } {
  const document = parseDocument(text, { schema: 'failsafe', uniqueKeys: false, logLevel: 'silent' });
  const block = isMap(document.contents) ? document.getIn(['feed'], true) : undefined;
  if (!isMap(block)) return { options: {} };
  const values = block.items.flatMap(({ key, value }) =>
    isScalar(key) && isScalar(value) ? [[String(key.value), String(value.value)] as const] : [],
  );
  const options = values.filter(
    ([key, value]) =>
      Object.hasOwn(CHOICES, key) &&
      (CHOICES[key as keyof typeof CHOICES] as readonly string[]).includes(value),
  );
  const file = values.find(([key]) => key === 'file')?.[1];
  return { ...(file === undefined ? {} : { file }), options: Object.fromEntries(options) as ReadOptions };
}
