import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';

/** A case with the files that belong to it: everything a desk keeps and hands on. */
export interface Campaign {
  readonly text: string;
  readonly files: Readonly<Record<string, Uint8Array>>;
}

/** The name the case has in a folder. */
export const CASE_FILE = 'case.yaml';
const FORMAT = 'grindloop campaign';
const VERSION = 1;
/** Names a folder may hold: no path leads out of it. */
const PLAIN_NAME = /^(?!\.)[^/\\:*?"<>|]{1,120}$/;

/** A campaign as one JSON file: the text of the case, its files byte for byte, and the program's version. */
export function campaignJson({ text, files }: Campaign, program: string): string {
  const packed = Object.entries(files).map(([name, bytes]) => [name, base64(bytes)]);
  const whole = { format: FORMAT, version: VERSION, program, case: text, files: Object.fromEntries(packed) };
  return `${JSON.stringify(whole, null, 1)}\n`;
}

/** A campaign as a zipped folder that the command line runs as it is: `grindloop run case.yaml`. */
export function campaignZip({ text, files }: Campaign): Uint8Array {
  return zipSync({ ...files, [CASE_FILE]: strToU8(text) });
}

/**
 * A campaign from a file that was saved before: .json, .zip, or the YAML text of a case alone.
 *
 * @throws Error in words where it is none
 */
export function campaignFrom(name: string, bytes: Uint8Array): Campaign {
  if (/\.zip$/i.test(name)) return fromZip(bytes);
  if (/\.json$/i.test(name)) return fromJson(strFromU8(bytes));
  return { text: strFromU8(bytes), files: {} };
}

/** Whether a file is a campaign or a case rather than a file that belongs to one. */
export function isCampaign(name: string, bytes: Uint8Array): boolean {
  if (/\.(zip|json)$/i.test(name)) return true;
  return /\.ya?ml$/i.test(name) && /^(material|machine|settings|components):/m.test(strFromU8(bytes));
}

/** What systems put into a .zip of their own, which belongs to no campaign. */
const OF_THE_SYSTEM = /(^|\/)(__MACOSX\/|\.DS_Store$|Thumbs\.db$|desktop\.ini$)/;

function fromZip(bytes: Uint8Array): Campaign {
  let entries: Record<string, Uint8Array>;
  try {
    entries = unzipSync(bytes);
  } catch {
    throw new Error('this .zip cannot be read; save the folder again');
  }
  const names = Object.keys(entries).filter((name) => !name.endsWith('/'));
  const at = names.find((name) => name === CASE_FILE || name.endsWith(`/${CASE_FILE}`));
  if (at === undefined) throw new Error(`this .zip holds no ${CASE_FILE}`);
  const folder = at.slice(0, -CASE_FILE.length);
  const others = names.filter((name) => name !== at && !OF_THE_SYSTEM.test(name));
  const odd = others.filter(
    (name) => !name.startsWith(folder) || !PLAIN_NAME.test(name.slice(folder.length)),
  );
  if (odd.length > 0)
    throw new Error(
      `this .zip holds files that a campaign cannot take: ${odd.slice(0, 5).join(', ')}; put them next to ${CASE_FILE}, with plain names, or take them out`,
    );
  const files = others.map((name) => [name.slice(folder.length), entries[name]!] as const);
  return { text: strFromU8(entries[at]!), files: Object.fromEntries(files) };
}

function fromJson(text: string): Campaign {
  let read: unknown;
  try {
    read = JSON.parse(text);
  } catch {
    throw new Error('this file is not readable as JSON');
  }
  const { format, version, case: own, files } = (read ?? {}) as Record<string, unknown>;
  if (format !== FORMAT || typeof own !== 'string') throw new Error('this file is no campaign of a desk');
  if (version !== VERSION)
    throw new Error(`this campaign has version ${String(version)}; this desk reads version ${VERSION}`);
  const entries = Object.entries((files ?? {}) as Record<string, unknown>);
  const odd = entries.find(([name, content]) => !PLAIN_NAME.test(name) || typeof content !== 'string');
  if (odd) throw new Error(`this campaign holds a file that cannot be read: ${odd[0].slice(0, 60)}`);
  return {
    text: own,
    files: Object.fromEntries(entries.map(([name, content]) => [name, fromBase64(content as string)])),
  };
}

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

function fromBase64(text: string): Uint8Array {
  return Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
}
