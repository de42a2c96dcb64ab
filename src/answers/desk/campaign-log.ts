import { noText } from '../../scenario/measurement/decode.ts';
import { csvTable, knownIn } from '../../trials/log/csv-table.ts';
import type { LogFiles } from '../../trials/log/log-files.ts';
import type { CaseFiles } from './desk-files.ts';

/** The trial log among the files of a campaign, and names of what the desk adds to them. */
export const LOG_FILE = 'log.csv';
export const CALIBRATION_FILE = 'calibration.yaml';

/** Known headings from which a CSV is a trial log, not a measurement with a heading that a log knows too. */
const LEAST_HEADINGS = 3;
/** Longest file looked at [bytes]; a log of a thousand runs is shorter. */
const LONGEST = 1e6;

/** Name of the trial log among the files; undefined where there is none. */
export function logNameIn(files: CaseFiles['files']): string | undefined {
  if (Object.hasOwn(files, LOG_FILE)) return LOG_FILE;
  return Object.keys(files).find((name) => isLog(name, files[name]!));
}

/** Whether a file is a trial log. */
export function isLog(name: string, bytes: Uint8Array): boolean {
  if (bytes.length > LONGEST || noText(bytes, name) !== undefined) return false;
  const text = new TextDecoder().decode(bytes);
  if (/\.ya?ml$/i.test(name)) return /^trials:/m.test(text);
  const table = csvTable(text);
  return table !== undefined && knownIn(table.head.cells) >= LEAST_HEADINGS;
}

/** Whether a file is a calibration that a fit wrote. */
export function isCalibration(bytes: Uint8Array): boolean {
  return new TextDecoder().decode(bytes.subarray(0, 200)).startsWith('# written by grindloop fit');
}

/** Log and size files of a campaign, side by side in one folder. */
export function logFiles(files: CaseFiles['files']): LogFiles {
  const plain = (name: string) => name.replace(/^\.\//, '');
  return {
    placeOf: plain,
    readBytes: (place) => {
      const bytes = files[plain(place)];
      if (!bytes) throw new Error('it is not among the files of this campaign; open it here');
      return bytes;
    },
  };
}

/** Whether a library file is of a material or of a machine. */
export function entryKind(bytes: Uint8Array): 'material' | 'machine' {
  return /^(?:rotor|wheels|drives):/m.test(new TextDecoder().decode(bytes)) ? 'machine' : 'material';
}

/** Library files among the files: YAML that is neither log nor calibration. */
export function entriesIn(files: CaseFiles['files'], kind: 'material' | 'machine'): string[] {
  return Object.entries(files)
    .filter(([name, bytes]) => isEntry(name, bytes) && entryKind(bytes) === kind)
    .map(([name]) => name);
}

/** Whether a file is a library file that a case may name. */
export function isEntry(name: string, bytes: Uint8Array): boolean {
  return /\.ya?ml$/i.test(name) && !isCalibration(bytes) && !isLog(name, bytes);
}
