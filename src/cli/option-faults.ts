import type { Argv } from 'yargs';
import yargs from 'yargs/yargs';
import type { Fault } from '../scenario/errors.ts';
import { nearestName } from '../scenario/read/did-you-mean.ts';
import { type Loaded, nameOf } from './command.ts';

/** What the parser knows of a command's options; it is not in its published types. */
interface Declared {
  getOptions(): {
    readonly key: Readonly<Record<string, unknown>>;
    readonly alias: Readonly<Record<string, readonly string[]>>;
    readonly array: readonly string[];
    readonly string: readonly string[];
    readonly number: readonly string[];
  };
}

/** A dash alone, which the parser drops from a list of files. */
const LONE_DASH: Fault = {
  place: '-',
  message: 'is not a file name; standard input and output are not used, name a file',
};

/** Options every command has. */
const EVERYWHERE = ['help', 'h', 'debug'];

/**
 * Options stated that the command does not have, each with the one meant. The parser alone would take `--out` for a
 * positional `<out>` and let it win over the word that stands in its place, and drop a dash alone.
 *
 * @param words of the command line, from the command's name on
 */
export function unknownOptions(command: Loaded, words: readonly string[]): Fault[] {
  const { names } = optionsOf(command);
  const stated = beforeDashes(words).flatMap(
    (word) => /^--([^=]+)|^-([A-Za-z])/.exec(word)?.slice(1).filter(Boolean) ?? [],
  );
  const known = new Set(
    [...names.flat(), ...EVERYWHERE].flatMap((name) => [name, hyphened(name), camelled(name)]),
  );
  const unknown = [...new Set(stated)]
    .filter((name) => !known.has(name))
    .map((name) => ({
      place: '',
      message: `${nameOf(command)} has no option ${written(name)}${meant(name, names, nameOf(command))}`,
    }));
  return words.includes('-') ? [...unknown, LONE_DASH] : unknown;
}

/** Every option of a command as it is typed, e.g. `--output` and `-o`. */
export function optionWords(command: Loaded): string[] {
  return [...optionsOf(command).names.flat(), 'help'].map((name) => written(hyphened(name))).sort();
}

/** Switches stated both ways, of which the parser would take the last. */
export function contradictedSwitches(command: Loaded, words: readonly string[]): Fault[] {
  const { names, arrays, valued } = optionsOf(command);
  const options = beforeDashes(words);
  return names
    .filter(([own]) => !valued.includes(own!) && !arrays.includes(own!))
    .flatMap((all) => {
      const spellings = new Set(all.flatMap((name) => [written(name), written(hyphened(name))]));
      const ways = options.flatMap((word, i) => {
        const [name, value] = word.split('=', 2);
        if (!spellings.has(name!)) return [];
        return [value ?? (/^(true|false)$/.test(options[i + 1] ?? '') ? options[i + 1]! : 'true')];
      });
      const message = `is given in more than one way (${ways.join(', ')}); keep one`;
      return new Set(ways).size > 1 ? [{ place: spelt(all), message }] : [];
    });
}

/** The words among which options stand. */
function beforeDashes(words: readonly string[]): readonly string[] {
  const end = words.indexOf('--');
  return words.slice(0, end < 0 ? words.length : end);
}

/** Options stated twice though they take one value, or without the value they take; file names that are empty. */
export function misstatedOptions(command: Loaded, values: Readonly<Record<string, unknown>>): Fault[] {
  const { names, arrays, valued } = optionsOf(command);
  const blank = positionals(command)
    .filter((name) => [values[name]].flat().some(isBlank))
    .map((name) => ({ place: name, message: 'must not be empty' }));
  const misstated = names.flatMap((all) => {
    const name = all[0]!;
    const value = values[name];
    const place = spelt(all);
    if (Array.isArray(value) && !arrays.includes(name))
      return [{ place, message: 'is given twice; keep one' }];
    const empty = [value].flat().some(isBlank);
    if (valued.includes(name) && Number.isNaN(value))
      return [{ place, message: 'must be a number (decimal point, no comma)' }];
    if (valued.includes(name) && empty) return [{ place, message: 'needs a value' }];
    return typeof value === 'number' && !Number.isFinite(value)
      ? [{ place, message: 'must be a finite number' }]
      : [];
  });
  return [...blank, ...misstated];
}

function isBlank(value: unknown): boolean {
  return typeof value === 'string' && value.trim() === '';
}

function optionsOf(command: Loaded) {
  const declared = (command.options(yargs([])) as Argv & Declared).getOptions();
  const positional = positionals(command);
  const aliases = new Set(Object.values(declared.alias).flat());
  const own = Object.keys(declared.key).filter(
    (name) => !positional.includes(name) && !aliases.has(name) && !BUILT_IN.includes(name),
  );
  return {
    /** Each option's names, its own first. */
    names: own.map((name) => [name, ...(declared.alias[name] ?? [])]),
    arrays: declared.array,
    valued: [...declared.string, ...declared.number],
  };
}

const BUILT_IN = ['help', 'h', 'version'];

/** Names in angle or square brackets of a command's usage. */
function positionals({ usage }: Loaded): string[] {
  return [...usage.matchAll(/[<[](\w+)/g)].map((found) => found[1]!);
}

function meant(typed: string, names: readonly (readonly string[])[], command: string): string {
  const full = names.map((all) => hyphened(all.toSorted((a, b) => b.length - a.length)[0]!));
  const begins = full.filter((name) => name.startsWith(typed) || typed.startsWith(name));
  const near = begins[0] ?? nearestName(typed, full);
  const found = names.find((all) => all.some((name) => hyphened(name) === near));
  return found ? `; did you mean ${spelt(found)}?` : `; grindloop ${command} --help lists them`;
}

/** `-o/--output`. */
function spelt(all: readonly string[]): string {
  return all
    .map((name) => written(hyphened(name)))
    .sort((a, b) => a.length - b.length)
    .join('/');
}

function written(name: string): string {
  return name.length === 1 ? `-${name}` : `--${name}`;
}

/** The spelling without hyphens, which is understood too. */
function camelled(name: string): string {
  return name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

function hyphened(name: string): string {
  return name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}
