/** How a file's bytes were turned into text. */
export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin-1';

interface Decoded {
  readonly text: string;
  readonly encoding: Encoding;
}

/** Share of zero bytes on one side of the pairs from which on a file without a mark counts as UTF-16. */
const ZERO_SHARE = 0.4;

/**
 * Bytes of an export → text. A byte-order mark decides; without one, zero bytes on one side of the pairs mean UTF-16,
 * valid UTF-8 is UTF-8, and anything else is Latin-1 (Windows-1252), where µ is 0xB5.
 *
 * @param bytes file content
 * @param stated encoding the user states; it overrides
 * @returns text without its byte-order mark, line ends as \n
 * @example decode(Uint8Array.of(0x78, 0xb5)).text // 'xµ'
 */
export function decode(bytes: Uint8Array, stated?: Encoding): Decoded {
  const encoding = stated ?? encodingOf(bytes);
  const label = encoding === 'latin-1' ? 'windows-1252' : encoding;
  const even = encoding.startsWith('utf-16') ? bytes.subarray(0, bytes.length - (bytes.length % 2)) : bytes;
  const text = new TextDecoder(label).decode(even);
  return { text: text.replace(/\r\n?/g, '\n'), encoding };
}

function encodingOf(bytes: Uint8Array): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const pairs = Math.floor(bytes.length / 2);
  let first = 0;
  let second = 0;
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) first++;
    if (bytes[2 * i + 1] === 0) second++;
  }
  if (pairs > 0 && second / pairs > ZERO_SHARE) return 'utf-16le';
  if (pairs > 0 && first / pairs > ZERO_SHARE) return 'utf-16be';
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return 'utf-8';
  } catch {
    return 'latin-1';
  }
}

const BEGINS: readonly (readonly [readonly number[], string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], 'is a spreadsheet workbook or an archive: save its sheet as CSV'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'is a spreadsheet workbook: save its sheet as CSV'],
  [[0x25, 0x50, 0x44, 0x46], 'is a PDF: export the table as text or CSV'],
];

const WORKBOOK = /\.(?:xlsx|xlsm|xlsb|xls|ods)$/i;

/** Why a file is no text, by how its bytes begin or by its name, in words; undefined where it may be. */
export function noText(bytes: Uint8Array, name: string): string | undefined {
  if (bytes.length === 0) return 'is empty';
  if (WORKBOOK.test(name)) return 'is a spreadsheet workbook: save its sheet as CSV';
  return BEGINS.find(([begin]) => begin.every((byte, i) => bytes[i] === byte))?.[1];
}
