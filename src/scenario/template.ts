import { AIR } from '../model/parameters/air.ts';
import { LOOP } from '../model/parameters/loop.ts';
import { MATERIAL } from '../model/parameters/material.ts';
import { ROTOR_COEFFICIENTS, ROTOR_GEOMETRY } from '../model/parameters/rotor.ts';
import { WHEEL_COEFFICIENTS, WHEEL_GEOMETRY } from '../model/parameters/wheel.ts';
import type { Parameter } from '../model/parameters.ts';
import { formatNumber, toShown } from './units/display.ts';

/** What a new scenario starts from. */
export interface TemplateChoice {
  readonly title: string;
  /** Names of catalogue entries. */
  readonly material: string;
  readonly machine: string;
  /** Wheel of that machine. */
  readonly wheel: string;
  readonly materials: readonly string[];
  readonly machines: readonly string[];
}

/**
 * Text of a scenario to start from: the shortest useful one, and under it, commented out, what else may be given. The
 * commented keys, units and values filled in come from the model's own parameters.
 */
export function scenarioTemplate(choice: TemplateChoice): string {
  return `${head(choice)}
${MORE}
${options(choice)}`;
}

function head({ title, material, machine, wheel, materials, machines }: TemplateChoice): string {
  return `# A scenario of an impact mill with a built-in classifier wheel. Every number carries its unit; \`check\` lists all faults
# at once and shows what is filled in, with its evidence. Screening only: test your own dust; local codes and licensed
# practice decide.
title: ${JSON.stringify(title)}

# Catalogue: ${materials.join(', ')}. Orders of magnitude only:
# put in what you have measured, and calibrate on a trial.
material: { from: ${material} }

# Your feed's own percentiles, or { law: rrsb, x63: 500 um, exponent: 1.2 }, or { file: feed.csv }.
feed: { percentiles: { 10 %: 180 um, 50 %: 500 um, 90 %: 900 um } }

# Catalogue: ${machines.join(', ')}. Invented machines: give your own dimensions.
machine: ${machine}

# Speeds in rpm, or m/s of rotor tip and wheel rim; left out, they are proposed.
settings: { rotorSpeed: 90 m/s, wheel: ${wheel}, wheelSpeed: 1500 rpm, feedRate: 150 kg/h }

# \`quantities\` lists what can be named.
spec: [ "passing(75 um) >= 95 %", "outletTemperature <= 50 degC", "motorLoad <= 90 %" ]
goal: maximise feedRate

sweep:
  factors:
    wheelSpeed: { from: 1000 rpm, to: 4000 rpm, steps: 13 }
    feedRate: { from: 50 kg/h, to: 300 kg/h, steps: 6 }
`;
}

const MORE = `# ---- what else may be given; take away the # to use it -------------------------------------------------------------
# A number nobody measured may be a range (50..70 mm) or \`unknown\`: it then widens every band.
# job: { lot: , instrument: , dispersion: , humidity: , operator: }`;

function options({ material, machine, wheel }: TemplateChoice): string {
  return [
    block(`# material:\n#   from: ${material}`, MATERIAL, '  '),
    block('# air:', AIR, '  ', [
      'altitude: 300 m   # instead of pressure',
      'state: inlet   # inlet, standard (15 °C) or normal (0 °C): what flow is stated at',
    ]),
    block(`# machine:\n#   from: ${machine}`, LOOP, '  ', [
      'circuit: internal   # internal, external or open',
    ]),
    block('#   rotor:\n#     geometry:', ROTOR_GEOMETRY, '      ', ['element: bar   # bar or pin']),
    block('#     coefficients:', ROTOR_COEFFICIENTS, '      '),
    block(`#   wheels:\n#     ${wheel}:\n#       geometry:`, WHEEL_GEOMETRY, '        '),
    block('#       coefficients:', WHEEL_COEFFICIENTS, '        '),
    '#   drives: { wheel: 50 Hz = 3000 rpm }   # then Hz or % may stand for a speed',
    '# powder: { have: 20 kg, reserve: 5 kg, lossPerRun: 0.5 kg, minimumRun: 2 kg }   # what `next` may spend',
    '',
  ].join('\n');
}

function block(
  start: string,
  parameters: readonly Parameter[],
  indent: string,
  more: readonly string[] = [],
): string {
  const lines = parameters.map(
    (parameter) => `${parameter.name}: ${example(parameter)}   # ${parameter.meaning}`,
  );
  return [start, ...[...lines, ...more].map((line) => `#${indent.slice(1)} ${line}`)].join('\n');
}

/** The value filled in where there is one, else a blank with its unit. */
function example({ preset, shownIn }: Parameter): string {
  const unit = shownIn === '1' ? '' : ` ${shownIn}`;
  return `${preset ? formatNumber(toShown(preset.value, shownIn)) : '…'}${unit}`;
}
