import type { Fault } from '../scenario/errors.ts';
import { nearestName } from '../scenario/read/did-you-mean.ts';
import { type Listed, nameOf } from './command.ts';

/** What a command wants named, and an example of it. */
const WANTED: Readonly<Record<string, readonly [what: string, example: string]>> = {
  new: ['the scenario file to write', 'my-case.yaml'],
  read: ['a file with measured sizes', 'laser.csv'],
  grade: ['the three measured curves: feed, fines and coarse', 'feed.csv fines.csv coarse.csv'],
  merge: ['the stores to join', 'out/a out/b -o out/whole'],
  sql: ['a store and a question', 'out/my-case "select count(*) from points"'],
  report: ['the store of a sweep, or a scenario file', 'out/my-case'],
};
const SCENARIO = ['a scenario file', 'my-case.yaml'] as const;

/** A first word that is no command, with the one meant; nothing where it is one, or an option. */
export function unknownCommand(word: string | undefined, commands: readonly Listed[]): readonly Fault[] {
  const names = commands.map(nameOf);
  if (word === undefined)
    return [
      { place: '', message: 'name a command, e.g. grindloop run my-case.yaml; grindloop --help lists all' },
    ];
  if (word.startsWith('-') || names.includes(word)) return [];
  const near = nearestName(word, names);
  const remedy = near === undefined ? 'grindloop --help lists all' : `did you mean ${near}?`;
  return [{ place: '', message: `no command ${word.slice(0, 60)}; ${remedy}` }];
}

/** A fault of the parser in the program's own words. */
export function usageFault(message: string, command: Pick<Listed, 'usage'> | undefined): Fault {
  const text = message.replace(/\s*\n\s*/g, ' ').trim();
  if (!command) return { place: '', message: `${text}; grindloop --help lists all commands` };
  const name = nameOf(command);
  if (/^Not enough non-option arguments/.test(text)) {
    const [what, example] = WANTED[name] ?? SCENARIO;
    return { place: name, message: `name ${what}, e.g. grindloop ${name} ${example}` };
  }
  const extra = /^Unknown (?:arguments?|commands?): (.+)$/.exec(text)?.[1];
  if (extra !== undefined) {
    const takes = command.usage.split(' ').slice(1).join(' ');
    const remedy = takes === '' ? 'it takes options only' : `it takes ${takes} and options`;
    return { place: name, message: `unexpected ${extra}; ${remedy}` };
  }
  const choice = /^Invalid values: Argument: (\S+), Given: (.+), Choices: (.+)$/.exec(text);
  if (choice)
    return {
      place: `--${choice[1]}`,
      message: `must be one of ${choice[3]!.replaceAll('"', '')}, is ${choice[2]}`,
    };
  const absent = /^Missing required arguments?: (.+)$/.exec(text)?.[1];
  const words =
    absent === undefined
      ? text
      : `${absent
          .split(', ')
          .map((one) => `--${one}`)
          .join(' and ')} must be given`;
  return { place: name, message: `${words}; grindloop ${name} --help shows its options` };
}
