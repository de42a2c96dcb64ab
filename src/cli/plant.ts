import type { March } from '../plant/air-path/march.ts';
import { type PresetInUse, plantFrom, presetEvidence, type StatedPlant } from '../plant/presets.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import { screenPlant } from '../plant/safety/dust-screening.ts';
import { loadScenario } from '../scenario/load.ts';
import { toCase } from '../scenario/operating-point.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { type Command, EXIT } from './command.ts';
import { plantJson } from './plant-json.ts';
import { plantSummary, safetyText } from './plant-summary.ts';
import { settable } from './set-option.ts';

/** `plant FILE`: what stands around the mill at an operating point. */
export const plant: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print everything as JSON' })
      .option('safety', {
        type: 'boolean',
        default: false,
        describe: 'every line of the dust and run-down screening with its caution, and what to ask',
      })
      .option('set', settable('change a value, e.g. --set plant.filter.bags=24 (repeatable)')),
  run: async (options) => {
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    const point = solvePoint({ ...toCase(scenario), plant: plantOf(scenario) });
    if (point.status === 'choked') {
      const { reason, message } = point.state;
      process.stdout.write(
        options.json
          ? `${JSON.stringify({ status: 'choked', reason, message }, null, 2)}\n`
          : `${scenario.title}\n\nThe mill chokes (${reason}): ${message}. There is no plant to speak of.\n`,
      );
      return EXIT.noAnswer;
    }
    const state = point.plant!;
    const beyond = beyondVacuum(state.march);
    if (beyond !== undefined) {
      const message = `at "${beyond}" the losses on the way exceed the pressure of the air itself: no fan can suck this air through, and nothing of the plant or its dust can be judged. Check air.flow and the gaps it passes.`;
      process.stdout.write(
        options.json
          ? `${JSON.stringify({ status: 'no air passes', place: beyond, message }, null, 2)}\n`
          : `${scenario.title}\n\nNo answer: ${message}\n\n${SAFETY_CAUTION}\n`,
      );
      return EXIT.noAnswer;
    }
    const screening = screenPlant(state);
    const presets = presetsOf(scenario);
    const text = () =>
      options.safety
        ? safetyText(scenario, screening)
        : plantSummary(scenario, point, screening.lines, presets);
    process.stdout.write(
      options.json ? `${JSON.stringify(plantJson(point, screening, presets), null, 2)}\n` : text(),
    );
    return EXIT.done;
  },
};

/** First place whose absolute pressure would have to be zero or less. */
function beyondVacuum({ stations }: March): string | undefined {
  return stations.find(({ stream }) => !(stream.pressure > 0))?.name;
}

/** The scenario's plant, or one of presets alone. */
function plantOf({ blocks }: Scenario) {
  return plantFrom((blocks.plant ?? {}) as StatedPlant);
}

/** Values of the plant that nobody stated. */
function presetsOf({ blocks, provenance }: Scenario): PresetInUse[] {
  if (!blocks.plant) return presetEvidence();
  return Object.entries(provenance)
    .filter(([path, { label }]) => path.startsWith('plant.') && label !== 'given')
    .map(([name, { value, unit, label, source }]) => ({ name, value, unit, label, source }));
}
