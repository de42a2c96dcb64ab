import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { toCase } from '../scenario/operating-point.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { parseValue } from '../scenario/units/parse.ts';
import { isProblem } from '../scenario/units/problem.ts';
import { carryOver, likeWheel } from '../search/scale/map-to-machine.ts';
import { SAME_PRODUCT, scaleTo } from '../search/scale/scale.ts';
import { specLimits } from '../search/scale/spec-limits.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { machineNamed } from './machine-named.ts';
import { scaleJson, scaleText } from './scale-summary.ts';
import { settable } from './set-option.ts';

/** `scale FILE --to MACHINE`: the same product on another machine. */
export const scale: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('to', { type: 'string', demandOption: true, describe: 'machine of the catalogue, or a file' })
      .option('wheel', {
        type: 'string',
        describe: 'wheel of the other machine; the most alike where left out',
      })
      .option('air', { type: 'string', describe: 'air flow of the other machine, e.g. "16000 m^3/h"' })
      .option('json', { type: 'boolean', default: false, describe: 'print everything as JSON' })
      .option('set', settable('change a value first, e.g. --set settings.feedRate="200 kg/h" (repeatable)')),
  run: async (options) => {
    const file = String(options.file);
    const [airFlow, { other, wheel: named }, scenario] = await checkedTogether<
      [number | undefined, { other: Scenario; wheel: string | undefined }, Scenario]
    >([
      () => (options.air === undefined ? undefined : flowOf(String(options.air))),
      () => {
        const other = machineNamed(String(options.to), file, '--to');
        return { other, wheel: wheelOf(options.wheel as string | undefined, other) };
      },
      () => loadScenario(file, { set: options.set as string[] }),
    ]);
    const from = solvePoint(toCase(scenario));
    if (from.status === 'choked') {
      process.stdout.write(
        `${scenario.title}\n\nThe point to be carried over chokes: ${from.state.message}.\n`,
      );
      return EXIT.noAnswer;
    }
    const wheel = named ?? likeWheel(from.case, other);
    const { machine, taken } = carryOver(from.case, other, wheel);
    const scaled = scaleTo(from, machine, {
      ...(airFlow === undefined ? {} : { airFlow }),
      limits: specLimits(scenario.spec, from),
    });
    const shown = { scenario, other, from, scaled, taken };
    process.stdout.write(options.json ? `${JSON.stringify(scaleJson(shown), null, 2)}\n` : scaleText(shown));
    const point = scaled.most ?? scaled.same;
    const met = scaled.most !== undefined && (point?.difference.worst ?? 1) <= SAME_PRODUCT;
    return met ? EXIT.done : EXIT.noAnswer;
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
