import { AIR, FLOW_STATES } from '../model/parameters/air-parameters.ts';
import { CIRCUITS, LOOP } from '../model/parameters/loop.ts';
import { MATERIAL } from '../model/parameters/material-parameters.ts';
import { ELEMENT_KINDS, ROTOR_COEFFICIENTS, ROTOR_GEOMETRY } from '../model/parameters/rotor-parameters.ts';
import { WHEEL_COEFFICIENTS, WHEEL_GEOMETRY } from '../model/parameters/wheel-parameters.ts';
import type { LawHeader, Parameter } from '../model/parameters.ts';
import { CYCLONES } from '../plant/cyclone/index.ts';
import { FAN_CURVES } from '../plant/fan.ts';
import { FEEDERS } from '../plant/feeders.ts';
import { PLANT_BLOCKS } from '../plant/plant.ts';
import { EFFICIENCY_LAWS, FEED_LAWS, FRAGMENT_LAWS, SELECTION_LAWS } from './read/laws.ts';
import { TIME_NUMBERS } from './read/plant-and-time-blocks.ts';
import { formatNumber, toShown } from './units/display.ts';

/** What a new scenario starts from. */
interface TemplateChoice {
  readonly title: string;
  /** Names of the catalogue's entries. */
  readonly materials: readonly string[];
  readonly machines: readonly string[];
}

/**
 * Text of a scenario to start from: short, complete, every line explained; under it, commented out, what else may be given.
 * The commented keys, units and values come from the model's own parameters and laws.
 */
export function scenarioTemplate(choice: TemplateChoice): string {
  return `${head(choice)}\n${more()}\n${CAUTION}`;
}

const CAUTION = `# Dust, rotating parts and vents can kill. All results are screening only: test your own dust; local codes and licensed
# practice decide. Missing data is an unknown hazard.
`;

function head({ title, materials, machines }: TemplateChoice): string {
  return `# A grindloop scenario. Every number carries its unit; \`grindloop check\` lists all values in use with their source.
title: ${JSON.stringify(title)}

# Start from a class or a material of the catalogue and override what you know; its breakage is an order of magnitude only.
#   ${materials.join(', ')}
material:
  from: organic-crystal
  density: 1450 kg/m^3            # particle density, not bulk density

# The size of what you feed. Percentiles from a report will do; or { law: rrsb, x63: …, exponent: … },
# { law: log-normal, x50: …, spread: … }, or { file: measured.csv, sizeUnit: um }.
feed: { percentiles: { 10 %: 180 um, 50 %: 500 um, 90 %: 900 um } }

# Invented machines to start from: ${machines.join(', ')}. Any value can be overridden, e.g.
#   machine: { from: pilot-300, rotor: { motor: { power: 18 kW } } }
machine: pilot-300

air: { flow: 1500 m^3/h, temperature: 20 degC, humidity: 50 % }   # flow at this inlet state

# Speeds in rpm, in m/s at rotor tip or wheel rim, or in Hz where the machine has a \`drives\` entry.
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 32 Hz, feedRate: 150 kg/h }

# What the product and the run must meet; \`grindloop quantities\` lists every name.
spec:
  - passing(75 um) >= 95 %
  - outletTemperature <= 50 degC
  - motorLoad <= 90 %
goal: maximise feedRate

# What \`grindloop sweep\` varies. Any number of the mill in this file can be a factor by its path.
sweep:
  design: grid
  factors:
    rotorSpeed: { from: 4000 rpm, to: 7000 rpm, steps: 13 }
    wheelSpeed: { from: 1000 rpm, to: 5000 rpm, steps: 17 }
    wheel: [ medium-radial, medium-leaning, long-leaning ]
    feedRate: { from: 100 kg/h, to: 500 kg/h, steps: 5 }

# What there is to spend on trials.
powder: { have: 20 kg, reserve: 5 kg, lossPerRun: 0.5 kg, minimumRun: 2 kg }
`;
}

function more(): string {
  return [
    '# What else may be given, with the default value of each. A number that was not measured may be a range',
    '# (50..70 mm) or `unknown`: it then widens every band. Any value may carry its evidence:',
    '#   density: { value: 1450 kg/m^3, label: published, source: … }',
    ...section('job', [
      "number, customer, author, centre, objective, conclusion, nextStep: head and text of the customer's document",
      'logo: logo.png   (PNG, JPEG or SVG of at most 300 kB, embedded in the document)',
      'lot, instrument, dispersion, humidity, operator, …: free text for the report',
    ]),
    ...section('material', MATERIAL.map(line)),
    ...laws('material.selection', SELECTION_LAWS),
    ...laws('material.fragments', FRAGMENT_LAWS),
    ...laws('feed', FEED_LAWS),
    ...section('air', [
      ...AIR.map(line),
      'altitude: … m — instead of pressure',
      choice(
        'state',
        FLOW_STATES,
        'what the flow is stated at: inlet, standard (15 °C) or normal (0 °C), the last two dry at 101325 Pa',
      ),
    ]),
    ...section('machine', [
      ...LOOP.map(line),
      choice('circuit', CIRCUITS, 'which way the coarse goes back'),
      'drives: { wheel: 50 Hz = 3000 rpm } — then Hz or % may stand for a speed',
    ]),
    ...section('machine.rotor.geometry', [
      choice('element', ELEMENT_KINDS, 'kind of element'),
      ...ROTOR_GEOMETRY.map(line),
    ]),
    ...section('machine.rotor.coefficients', ROTOR_COEFFICIENTS.map(line)),
    ...section('machine.rotors.NAME', [
      'another rotor to compare with the machine’s own: what differs from it, e.g. { geometry: { count: 24 } }',
    ]),
    ...section('machine.wheels.NAME.geometry', WHEEL_GEOMETRY.map(line)),
    ...section('machine.wheels.NAME.coefficients', WHEEL_COEFFICIENTS.map(line)),
    ...laws('machine.wheels.NAME.efficiency', EFFICIENCY_LAWS),
    '#',
    '# plant: {} takes presets for all equipment around the mill; sizes left out are chosen for this operating point.',
    ...laws('plant.feeder (plant.secondFeeder for all components but the first)', FEEDERS),
    ...laws('plant.cyclone', CYCLONES),
    ...laws('plant.fan', FAN_CURVES),
    ...Object.entries(PLANT_BLOCKS).flatMap(([name, parameters]) =>
      name === 'productLine' ? [] : section(plantPath(name), parameters.map(line)),
    ),
    ...section('time', [
      ...TIME_NUMBERS.map(line),
      'events: [ { at: 10 min, feedRate: 350 kg/h } ] — changes of the feed, or { at: 10 min, trip: wheel }: wheel, rotor, fan, feeder, airlock',
    ]),
    '',
  ].join('\n');
}

/** The two lines have the same keys. */
function plantPath(name: string): string {
  return name === 'feedLine' ? 'plant.feedLine, plant.productLine' : `plant.${name}`;
}

function section(path: string, lines: readonly string[]): string[] {
  return ['#', `# ${path}`, ...lines.map((text) => `#   ${text}`)];
}

function laws(path: string, registry: Readonly<Record<string, LawHeader>>): string[] {
  const lines = Object.values(registry).map(({ name, parameters, table, summary }) => {
    const keys = [
      ...parameters.map((parameter) => `${parameter.name}: ${shown(parameter)}`),
      ...(table ? ['points: [ … ]'] : []),
    ];
    return `{ ${[`law: ${name}`, ...keys].join(', ')} } — ${summary}`;
  });
  return section(path, lines);
}

function choice(name: string, words: readonly string[], meaning: string): string {
  return `${name}: ${words[0]} — ${meaning} (${words.join(', ')})`;
}

function line(parameter: Parameter): string {
  return `${parameter.name}: ${shown(parameter)} — ${parameter.meaning}`;
}

/** The value taken where the file is silent, or a gap, with its unit. */
function shown({ preset, shownIn }: Parameter): string {
  const unit = shownIn === '1' ? '' : ` ${shownIn}`;
  return `${preset ? formatNumber(toShown(preset.value, shownIn)) : '…'}${unit}`;
}
