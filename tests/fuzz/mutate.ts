/** Pieces of text that have broken readers of numbers, units and trees before. */
const NASTY = [
  '-1',
  '0',
  '1e999',
  '-1e999',
  'NaN',
  '.inf',
  '-.inf',
  'Infinity',
  '1,5',
  '1.500,5',
  '0x1f',
  '1e-320',
  '9'.repeat(400),
  '٣٤ µm',
  '5 kW',
  '5 Hz',
  '5',
  '% 5',
  '50..70 mm',
  '70..50 mm',
  'unknown',
  '200 mesh',
  '77 mesh',
  '5 um um',
  '5 m^99',
  '5 m/',
  '3 µ',
  'null',
  '~',
  'true',
  '[]',
  '{}',
  '[[[[]]]]',
  '*a',
  '&a [*a]',
  '<<: *a',
  '!!js/function "x"',
  '!!binary aGk=',
  '? x',
  '|',
  '>',
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  '__proto__: { x: 1 }',
  'constructor: 5',
  '"passing(75 um) >= 95 %"',
  '"x95 <= x95"',
  '"x95(x95(x95))"',
  '"(((((((((x95))))))))) <= 1 um"',
  '"x95 = 5"',
  '"x95; 1"',
  '"x95[1]"',
  '"import(1) <= 2"',
  '"a.b <= 2"',
  '"1:10 <= 2"',
  '"x95 <= 2 um or 1"',
  '"x95 ^ 9999 <= 2"',
  '"1/0 um <= x95"',
  `"${'('.repeat(500)}"`,
  '<script>alert(1)</script>',
  '\u202eabc',
  '\u0000',
  '\u2028',
  '\ufeff',
  '\t',
  '\r\n',
  "'",
  '"',
  '`',
  '$' + '{x}',
  '../../etc/passwd',
  '/dev/zero',
  'file:///x',
  'from: pilot-300',
  'from: from',
  'organic-crystal',
  'machine',
  'rosin-rammler',
  'grid',
  'sobol',
  'steps: 1e9',
  'points: -5',
] as const;

type Random = () => number;

const pick = <T>(random: Random, items: readonly T[]): T => items[Math.floor(random() * items.length)]!;

/** A text changed in a few places: tokens swapped for nasty ones, lines lost, doubled, moved, bytes flipped. */
export function mutate(text: string, random: Random): string {
  let result = text;
  const changes = 1 + Math.floor(random() * 4);
  for (let i = 0; i < changes; i++) result = pick(random, CHANGES)(result, random);
  return result;
}

const CHANGES: readonly ((text: string, random: Random) => string)[] = [
  (text, random) => {
    const numbers = [...text.matchAll(/-?\d+(?:\.\d+)?(?:\s*[a-zA-Zµ%/^()0-9]+)?/g)];
    return numbers.length === 0 ? text : splice(text, pick(random, numbers), pick(random, NASTY));
  },
  (text, random) => {
    const words = [...text.matchAll(/[A-Za-z_][\w-]*/g)];
    return words.length === 0 ? text : splice(text, pick(random, words), pick(random, NASTY));
  },
  (text, random) => {
    const at = Math.floor(random() * (text.length + 1));
    return text.slice(0, at) + pick(random, NASTY) + text.slice(at);
  },
  (text, random) => {
    const lines = text.split('\n');
    lines.splice(Math.floor(random() * lines.length), 1);
    return lines.join('\n');
  },
  (text, random) => {
    const lines = text.split('\n');
    const line = pick(random, lines);
    lines.splice(Math.floor(random() * lines.length), 0, line);
    return lines.join('\n');
  },
  (text, random) => {
    const from = Math.floor(random() * text.length);
    return text.slice(0, from) + text.slice(from + 1 + Math.floor(random() * 12));
  },
  (text, random) => {
    const at = Math.floor(random() * text.length);
    return text.slice(0, at) + String.fromCharCode(Math.floor(random() * 256)) + text.slice(at + 1);
  },
  (text, random) =>
    text.replaceAll(
      pick(random, [':', ',', '.', '\n', ' ', '{', ';', '\t']),
      pick(random, [',', ';', ' ', '\t', '', '\r\n', '}']),
    ),
  (text, random) => text.slice(0, Math.floor(random() * text.length)),
];

function splice(text: string, match: RegExpExecArray, by: string): string {
  return text.slice(0, match.index) + by + text.slice(match.index + match[0].length);
}
