import { type Command, EXIT } from './command.ts';
import { writeWhole } from './write-file.ts';

/** `new FILE`: a commented scenario to start from. */
export const newScenario: Command = {
  usage: 'new <file>',
  summary: 'write a commented scenario to start from',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'where to write it', demandOption: true })
      .option('force', { type: 'boolean', default: false, describe: 'replace a file that is there' }),
  run: async (options) => {
    const file = String(options.file);
    writeWhole(file, TEMPLATE, options.force === true);
    process.stdout.write(`${file} written; change it to your case, then: grindloop check ${file}\n`);
    return EXIT.done;
  },
};

/** Short, complete, and every line explained; what it leaves out comes from the catalogue, labelled. */
export const TEMPLATE = `# A grindloop scenario. Every number carries its unit; \`grindloop check\` lists all values in use with their source.
title: My material, my job

# Start from a class or a material of the catalogue and override what you know:
#   classes    ductile-polymer, organic-crystal, brittle-mineral
#   materials  erythritol, sucrose, table-salt, calcite, quartz-feldspar, pea, coating-resin
material:
  from: organic-crystal
  density: 1450 kg/m^3            # particle density, not bulk density

# The size of what you feed. Percentiles from a report will do; or { law: rrsb, x63: …, exponent: … },
# { law: log-normal, x50: …, spread: … }, or { file: measured.csv, sizeUnit: um }.
feed: { percentiles: { 10 %: 180 um, 50 %: 500 um, 90 %: 900 um } }

# pilot-300, production-600, production-1000; any value can be overridden, e.g.
#   machine: { from: pilot-300, rotor: { motor: { power: 18 kW } } }
machine: pilot-300

air: { flow: 1500 m^3/h, temperature: 20 degC, humidity: 50 % }   # flow at this inlet state

# Speeds in rpm, in m/s at rotor tip or wheel rim, or in Hz where the machine has a \`drives\` entry.
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 25 Hz, feedRate: 150 kg/h }

# What the product and the run must meet; \`grindloop quantities\` lists every name.
spec:
  - passing(75 um) >= 95 %
  - outletTemperature <= 50 degC
  - motorLoad <= 90 %
goal: maximise feedRate

# What \`grindloop sweep\` varies. Any number of this file can be a factor by its path.
sweep:
  design: grid
  factors:
    rotorSpeed: { from: 4000 rpm, to: 7000 rpm, steps: 13 }
    wheelSpeed: { from: 1000 rpm, to: 5000 rpm, steps: 17 }
    wheel: [ medium-radial, medium-leaning, long-leaning ]
    feedRate: { from: 100 kg/h, to: 500 kg/h, steps: 5 }

# What there is to spend on trials.
powder: { have: 20 kg, reserve: 5 kg, lossPerRun: 0.5 kg, minimumRun: 2 kg }

# Dust, rotating parts and vents can kill. All results are screening only: test your own dust; local codes and licensed
# practice decide. Missing data is an unknown hazard.
`;
