import { scaleDocument } from '../answers/scale/scale-document.ts';
import { InputError } from '../scenario/errors.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { parseValue } from '../scenario/units/parse-quantity.ts';
import { isProblem } from '../scenario/units/unit-problem.ts';
import { checkedTogether } from './collect-faults.ts';
import type { Command } from './command.ts';
import { documentOptions, giveDocument, givingOf } from './document-output.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { machineNamed } from './machine-named.ts';
import { settable } from './set-option.ts';

/** `scale FILE --to MACHINE`: the same product on another machine. */
export const scale: Command = {
  options: (argv) =>
    documentOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('to', { type: 'string', demandOption: true, describe: 'machine of the catalogue, or a file' })
      .option('wheel', {
        type: 'string',
        describe: 'wheel of the other machine; the most alike where left out',
      })
      .option('air', { type: 'string', describe: 'air flow of the other machine, e.g. "16000 m^3/h"' })
      .option('grade', GRADED)
      .option('set', settable('change a value first, e.g. --set settings.feedRate="200 kg/h" (repeatable)'))
      .example('grindloop scale my-case.yaml --to production-600', 'the same product on a larger machine')
      .example('grindloop scale my-case.yaml --to production-600 -o scale.html', 'the same, as a page too'),
  run: async (options) => {
    const file = String(options.file);
    const [airFlow, { other, wheel: named }, scenario] = await checkedTogether<
      [number | undefined, { other: Scenario; wheel: string | undefined }, Scenario]
    >([
      () => (options.air === undefined ? undefined : flowOf(String(options.air))),
      () => {
        const other = machineNamed(String(options.to), '--to');
        return { other, wheel: wheelOf(options.wheel as string | undefined, other) };
      },
      () => loadGraded(file, options),
    ]);
    const wish = {
      ...(named === undefined ? {} : { wheel: named }),
      ...(airFlow === undefined ? {} : { airFlow }),
    };
    return giveDocument(scaleDocument(scenario, other, wish), givingOf(options, scenario.text));
  },
};

function wheelOf(name: string | undefined, { machine }: Scenario): string | undefined {
  if (name === undefined || Object.hasOwn(machine.wheels, name)) return name;
  const names = Object.keys(machine.wheels).join(', ');
  throw new InputError([{ place: '--wheel', message: `must be a wheel of ${machine.name}: ${names}` }]);
}

function flowOf(text: string): number {
  const value = parseValue(text, { unit: 'm^3/s', shownIn: 'm^3/h' });
  if (isProblem(value)) throw new InputError([{ place: '--air', message: value.problem }]);
  if (!(value.value > 0)) throw new InputError([{ place: '--air', message: 'must be > 0 m³/h' }]);
  return value.value;
}
