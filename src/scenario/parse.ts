import { plantFaults } from '../plant/faults.ts';
import { plantFrom, type StatedPlant } from '../plant/presets.ts';
import type { Fault } from './errors.ts';
import { InputError } from './errors.ts';
import { type Expression, namesIn } from './expression/expression.ts';
import { PLANT_QUANTITIES } from './outcome/plant-quantities.ts';
import { QUANTITIES } from './outcome/quantities.ts';
import { outsideWarnings, usedFromOutside } from './outside/laws-used.ts';
import { override } from './read/apply-set.ts';
import { BLOCKS, readBlock } from './read/blocks.ts';
import { leaveCalibrationOut, takeUpCalibration } from './read/calibration.ts';
import { checkFeed } from './read/feed-fits.ts';
import type { Files } from './read/files.ts';
import { gradesOf, readGrades } from './read/grades.ts';
import { toldOnce } from './read/inherited-faults.ts';
import { readLogo } from './read/logo.ts';
import { readMachine } from './read/machine.ts';
import { checkAirPerPower } from './read/machine-fits.ts';
import { toldTogether } from './read/merge-faults.ts';
import { type Block, childOf, type Node } from './read/node.ts';
import { readPowder } from './read/powder.ts';
import { readAir } from './read/read-air.ts';
import { readFeedstock } from './read/read-material.ts';
import { readSettings } from './read/read-settings.ts';
import { readGoal, readPlacedSpec } from './read/read-spec.ts';
import { readSweep } from './read/read-sweep.ts';
import { asBlock, type Context, checkKeys, emptyContext, fault, readText } from './read/reading-context.ts';
import { expandParts, expandWhole } from './read/resolve-from.ts';
import { readYaml } from './read/yaml.ts';
import type { BlockValues, Scenario } from './scenario.ts';

/** What the reading of a scenario may use besides its text. */
export interface ParseOptions extends Partial<Files> {
  /** Name of the file, for faults about the file as a whole and as title where it has none. */
  readonly name?: string;
  /** `path=value` texts laid over the file. */
  readonly set?: readonly string[];
  /** Leaves the file's calibration out, with a warning, as a fit starts from the file's own coefficients. */
  readonly uncalibrated?: boolean;
}

const KEYS = [
  'title',
  'description',
  'job',
  'material',
  'components',
  'feed',
  'machine',
  'air',
  'settings',
  'spec',
  'goal',
  'grades',
  'sweep',
  'powder',
  'calibration',
];
const MOST_FAULTS = 100;

/**
 * Text of a scenario → checked scenario in SI, entries expanded and gaps filled, with evidence for every number.
 *
 * @param text YAML
 * @param options reading of other files is given from outside, so that this runs in a page as well
 * @throws InputError with every fault at once
 */
export function parseScenario(text: string, options: ParseOptions = {}): Scenario {
  const files = withDefaults(options);
  const sets = options.set ?? [];
  const context = emptyContext(files);
  const read = readYaml(text, { name: '', kind: 'scenario' });
  if (read.faults.length > 0) throw new InputError(inFile(read.faults, options.name));
  const file = asBlock(context, read.node, options.name ?? 'file');
  if (!file) throw new InputError(context.faults);
  const whole = expandWhole(context, file, files);
  const named = override(whole, sets).root;
  const calibrated = options.uncalibrated
    ? leaveCalibrationOut(context, whole, named)
    : takeUpCalibration(context, whole, files, named, (each) =>
        expandParts(emptyContext(files), each, files),
      );
  const set = override(calibrated.root, sets);
  context.faults.push(...set.faults);
  const root = expandParts(context, set.root, files);
  const scenario = assemble(context, root, text, options.name ?? 'scenario');
  if (context.faults.length > 0) throw new InputError(faultsOf(context));
  context.warnings.push(...outsideWarnings(usedFromOutside(scenario)));
  return { ...scenario, ...(calibrated.calibration ? { calibration: calibrated.calibration } : {}) };
}

function assemble(context: Context, root: Block, text: string, name: string): Scenario {
  checkKeys(context, root, '', [...KEYS, ...Object.keys(BLOCKS)]);
  readText(context, childOf(root, 'description'), 'description');
  const title = (readText(context, childOf(root, 'title'), 'title', 300) ?? name).replace(/\s+/g, ' ');
  const { components, evaporation } = readFeedstock(context, root);
  const machine = readMachine(context, childOf(root, 'machine'), evaporation);
  const air = readAir(context, childOf(root, 'air'));
  const common = readPlacedSpec(context, childOf(root, 'spec'), QUANTITIES);
  const spec = common.map(({ requirement }) => requirement);
  const goal = readGoal(context, childOf(root, 'goal'), QUANTITIES);
  const stated = readGrades(context, childOf(root, 'grades'), common, QUANTITIES);
  const powder = readPowder(context, childOf(root, 'powder'));
  const blocks = readBlocks(context, root);
  if (!blocks.plant) {
    faultPlantQuantities(context, root, spec, goal);
    for (const { own, goal: ownGoal } of stated)
      faultPlantQuantities(
        context,
        root,
        own.map(({ requirement }) => requirement),
        ownGoal,
        'grades',
      );
  }
  if (blocks.plant && context.faults.length === 0) {
    for (const { place, message } of plantFaults(plantFrom(blocks.plant as StatedPlant)))
      fault(context, childOf(root, 'plant'), `plant.${place}`, message);
  }
  const job = readJob(context, root);
  const logo = readLogo(context, childOf(childOf(root, 'job'), 'logo'), job.logo);
  if (!machine) throw new InputError(faultsOf(context));
  checkAirPerPower(context, childOf(root, 'air'), air.flow, machine.rotor.motor.power);
  const around = { machine, components, air, spec };
  const { settings, proposed } = readSettings(context, childOf(root, 'settings'), around);
  const placed = [...common, ...stated.flatMap(({ own }) => own)];
  if (context.faults.length === 0) checkFeed(context, root, components, machine.rotor, placed);
  const sweep = readSweep(context, childOf(root, 'sweep'), { machine, settings });
  return {
    title,
    job,
    ...(logo ? { logo } : {}),
    components,
    machine,
    air,
    settings,
    proposed,
    spec,
    ...(goal ? { goal } : {}),
    ...(stated.length > 0 && context.faults.length === 0
      ? { grades: gradesOf(stated, { spec, goal, proposed, wheel: settings.wheel }, around) }
      : {}),
    ...(sweep ? { sweep } : {}),
    ...(powder ? { powder } : {}),
    blocks,
    uncertain: context.uncertain,
    provenance: context.provenance,
    warnings: context.warnings,
    text,
  };
}

/** What is read off the plant needs one; `plant: {}` takes presets for all of it. */
function faultPlantQuantities(
  context: Context,
  root: Block,
  spec: Scenario['spec'],
  goal: Scenario['goal'],
  within?: string,
): void {
  const say = (key: string, of: Expression) => {
    const place = within ?? key;
    for (const name of namesIn(of)) {
      if (!PLANT_QUANTITIES.some((quantity) => quantity.name === name)) continue;
      fault(
        context,
        childOf(root, place),
        place,
        `${name} needs a plant block; \`plant: {}\` uses presets throughout`,
      );
    }
  };
  for (const { left, right } of spec) for (const side of [left, right]) say('spec', side);
  if (goal) say('goal', goal.expression);
}

function readBlocks(context: Context, root: Block): Readonly<Record<string, BlockValues>> {
  const blocks: Record<string, BlockValues> = {};
  for (const [key, shape] of Object.entries(BLOCKS)) {
    const values = readBlock(context, childOf(root, key), key, shape);
    if (values) blocks[key] = values;
    if (key === 'time') checkEvents(context, childOf(root, key), values);
  }
  return blocks;
}

/** An event changes the feed, stops something, or both. */
function checkEvents(context: Context, node: Node | undefined, values: BlockValues | undefined): void {
  const events = (values?.events ?? []) as readonly BlockValues[];
  const list = childOf(node, 'events');
  events.forEach((event, i) => {
    const at = list?.kind === 'list' ? list.items[i] : undefined;
    if (event.feedRate === undefined && event.trip === undefined)
      fault(
        context,
        at,
        `time.events.${i}`,
        'must have a feedRate or a trip, e.g. { at: 10 min, trip: wheel }',
      );
  });
}

function readJob(context: Context, root: Block): Readonly<Record<string, string>> {
  const block = asBlock(context, childOf(root, 'job'), 'job');
  const job: Record<string, string> = {};
  for (const [key, node] of [...(block?.entries ?? [])].slice(0, 100)) {
    const text = readText(context, node, `job.${key.slice(0, 60)}`);
    if (text !== undefined) job[key] = text;
  }
  return job;
}

function withDefaults(options: ParseOptions): Files {
  const none = (path: string): string => {
    throw new Error(`file ${path} is not available here`);
  };
  return {
    readFile: options.readFile ?? none,
    ...(options.readBytes ? { readBytes: options.readBytes } : {}),
    ...(options.version ? { version: options.version } : {}),
    catalogue: options.catalogue ?? (() => undefined),
    catalogueNames: options.catalogueNames ?? (() => []),
  };
}

function inFile(faults: readonly Fault[], name: string | undefined): readonly Fault[] {
  return faults.map((fault) => (fault.place === 'file' && name ? { ...fault, place: name } : fault));
}

/** Each fault once, by line, as one reads the file; those without a line last. */
function faultsOf({ faults, laidOver }: Context): readonly Fault[] {
  const line = (fault: Fault) => fault.line ?? Number.POSITIVE_INFINITY;
  const byLine = [...toldOnce(faults, laidOver)].sort((a, b) =>
    line(a) === line(b) ? 0 : line(a) - line(b),
  );
  return toldTogether(byLine).slice(0, MOST_FAULTS);
}
