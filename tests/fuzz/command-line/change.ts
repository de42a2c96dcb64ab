import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { mutate } from '../mutate.ts';
import { OPTIONS, PLACES, SEEDS, VALUES } from './seeds.ts';

type Random = () => number;

const pick = <T>(random: Random, items: readonly T[]): T => items[Math.floor(random() * items.length)]!;

/** A command line to be tried, and a file of the workshop that is changed for it. */
export interface Trial {
  readonly words: readonly string[];
  readonly file?: { readonly name: string; readonly text: string };
}

const TOTAL = SEEDS.reduce((sum, [weight]) => sum + weight, 0);

function seedOf(random: Random): readonly string[] {
  let at = random() * TOTAL;
  for (const [weight, line] of SEEDS) {
    at -= weight;
    if (at < 0) return line;
  }
  return SEEDS[0]![1];
}

/** Half the trials change words, half a text file that the words name, some both. */
export function trialOf(random: Random, folder: string): Trial {
  const seed = seedOf(random);
  const texts = seed.filter((word) => /^[\w-]+\.(yaml|csv|txt)$/.test(word) && word !== 'made.yaml');
  const how = random();
  let words = [...seed];
  if (how < 0.65 || texts.length === 0) {
    const changes = 1 + Math.floor(random() ** 2 * 3);
    for (let i = 0; i < changes && words.length > 0; i++) words = pick(random, CHANGES)(words, random);
  }
  const known = texts.filter((name) => !/^(page|fitted|sheet)/.test(name));
  // a process is given no NUL in its words
  const given = words.map((word) => word.replaceAll('\u0000', ''));
  if (how < 0.5 || known.length === 0) return { words: given };
  const name = pick(random, known);
  const text = readFileSync(join(folder, name), 'utf8');
  return {
    words: given,
    file: { name, text: random() < 0.6 ? rescaled(text, random) : mutate(text, random) },
  };
}

/** One to four numbers of a text times something between a hundredth and a hundred: often in order still, seldom usual. */
function rescaled(text: string, random: Random): string {
  let result = text;
  for (let i = 1 + Math.floor(random() * 4); i > 0; i--) {
    const numbers = [...result.matchAll(/(?<![\w.-])\d+(?:\.\d+)?/g)];
    if (numbers.length === 0) return result;
    const { index, 0: number } = pick(random, numbers);
    const factor = pick(random, [0, 1, -1, 10 ** (4 * random() - 2), 10 ** (0.4 * random() - 0.2)]);
    const value = Number((Number(number) * factor).toPrecision(4));
    result = result.slice(0, index) + value + result.slice(index + number.length);
  }
  return result;
}

const CHANGES: readonly ((words: string[], random: Random) => string[])[] = [
  (words, random) => [...words, ...pick(random, OPTIONS)],
  (words, random) => words.with(at(words, random), rescaled(pick(random, words), random)),
  (words, random) => {
    const numbers = words.flatMap((word, i) => (/\d/.test(word) && !/\.\w+$/.test(word) ? [i] : []));
    if (numbers.length === 0) return words;
    const place = pick(random, numbers);
    return words.with(place, rescaled(words[place]!, random));
  },
  (words, random) => words.with(at(words, random), pick(random, PLACES)),
  (words, random) => words.with(at(words, random), pick(random, VALUES)),
  (words, random) => words.toSpliced(at(words, random), 1),
  (words, random) => words.toSpliced(at(words, random), 0, pick(random, words)),
  (words, random) => [...words, ...pick(random, OPTIONS)],
  (words, random) => [...words, ...pick(random, OPTIONS).with(-1, pick(random, VALUES))],
  (words, random) => {
    const [option, value] = pick(random, OPTIONS);
    return [...words, value === undefined ? `${option}=${pick(random, VALUES)}` : `${option}=${value}`];
  },
  (words, random) => {
    const place = at(words, random);
    return words.with(place, mutate(words[place]!, random));
  },
  (words, random) => {
    const values = words.flatMap((word, i) => (/^-?\d|=/.test(word) ? [i] : []));
    return values.length === 0 ? words : words.with(pick(random, values), pick(random, VALUES));
  },
];

function at(words: readonly string[], random: Random): number {
  return Math.floor(random() * words.length);
}
