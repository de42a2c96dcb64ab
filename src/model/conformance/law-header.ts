import type { LawHeader, Parameter, TableShape } from '../parameters.ts';
import type { Evidence, Label } from '../sources.ts';
import { brokenRules, type Rule } from './rule.ts';

const LABELS: readonly Label[] = [
  'published',
  'recalled',
  'derived',
  'assumed',
  'practice',
  'given',
  'measured',
  'fitted',
];
/** Fewest letters of a text that tells anything. */
const TELLING = 4;

/** What every law says of itself, whatever its kind: name, summary, label, source, parameters. */
export function headerFaults(law: LawHeader): string[] {
  const listed = Array.isArray(law.parameters);
  const parameters: readonly Parameter[] = listed ? law.parameters : [];
  return brokenRules([
    nameRule(law.name),
    textRule('summary', law.summary),
    ...evidenceRules(law),
    {
      must: 'list its parameters, [] where it has none',
      broken: () => (listed ? undefined : `parameters is ${typeof law.parameters}`),
    },
    ...parameters.flatMap((parameter) => parameterRules(parameter, parameters)),
    ...(law.table ? tableRules(law.table) : []),
  ]);
}

/** Names of laws and designs, as a scenario writes them. */
export function nameRule(name: unknown): Rule {
  return {
    must: 'have a name of small letters, digits and hyphens, e.g. two-power',
    broken: () => (/^[a-z][a-z0-9-]{0,39}$/.test(String(name)) ? undefined : `its name is ${String(name)}`),
  };
}

/** A text that a reader can use. */
export function textRule(key: string, text: unknown): Rule {
  return {
    must: `have a ${key} in words`,
    broken: () =>
      typeof text === 'string' && text.trim().length >= TELLING ? undefined : `${key} is ${String(text)}`,
  };
}

/** Label and source. */
export function evidenceRules({ label, source }: Partial<Evidence>): Rule[] {
  return [
    {
      must: `have a label, one of ${LABELS.join(', ')}`,
      broken: () => (LABELS.includes(label as Label) ? undefined : `its label is ${label}`),
    },
    textRule('source', source),
  ];
}

function parameterRules(parameter: Parameter, all: readonly Parameter[]): Rule[] {
  const { name, symbol, unit, shownIn, meaning, preset, typical } = parameter;
  const example = preset?.value ?? typical;
  const texts = { symbol, unit, shownIn };
  return [
    {
      must: 'name each parameter once, in letters and digits',
      broken: () => {
        if (!/^[a-z][A-Za-z0-9]{0,39}$/.test(String(name)) || name === 'law' || name === 'points')
          return `a parameter is called ${name}`;
        return all.filter((other) => other.name === name).length > 1 ? `${name} is there twice` : undefined;
      },
    },
    {
      must: `give ${name} a symbol, a unit and the unit it is shown in`,
      broken: () => {
        const empty = Object.entries(texts).find(([, text]) => typeof text !== 'string' || text === '');
        return empty ? `${empty[0]} is ${empty[1]}` : undefined;
      },
    },
    textRule(`meaning of ${name}`, meaning),
    {
      must: `give ${name} a preset or a typical value within its range`,
      broken: () => {
        if (!Number.isFinite(example)) return `it is ${example}`;
        return isWithin(example!, parameter) ? undefined : `${example} is outside`;
      },
    },
    beliefRule(parameter, example),
    ...(preset
      ? evidenceRules(preset).map((rule) => ({ ...rule, must: `${rule.must} (preset of ${name})` }))
      : []),
  ];
}

/** What trials may move lies within what is believed of it. */
function beliefRule({ name, belief }: Parameter, example: number | undefined): Rule {
  return {
    must: `have a belief of ${name} that holds its preset or typical value`,
    broken: () => {
      if (belief === undefined) return undefined;
      const { scale, spread, within = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] } = belief;
      if (!(spread > 0 && Number.isFinite(spread))) return `its spread is ${spread}`;
      if (!['log', 'logit', 'linear'].includes(scale?.kind)) return `its scale is ${JSON.stringify(scale)}`;
      const [low, high] =
        scale.kind === 'logit'
          ? [scale.low, scale.high]
          : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
      const holds = example! > low && example! < high && example! >= within[0] && example! <= within[1];
      return holds ? undefined : `${example} is outside`;
    },
  };
}

function tableRules({ columns, typical }: TableShape): Rule[] {
  return [
    {
      must: 'describe both columns of its table, and give typical points ascending in the first',
      broken: () => {
        if (columns.length !== 2) return `it describes ${columns.length}`;
        const stuck = typical.findIndex(([x], i) => i > 0 && !(x > typical[i - 1]![0]));
        return typical.length >= 2 && stuck < 0 ? undefined : `typical points ${JSON.stringify(typical)}`;
      },
    },
  ];
}

function isWithin(
  value: number,
  { minimum, exclusiveMinimum, maximum, exclusiveMaximum }: Parameter,
): boolean {
  return (
    value >= (minimum ?? Number.NEGATIVE_INFINITY) &&
    value > (exclusiveMinimum ?? Number.NEGATIVE_INFINITY) &&
    value <= (maximum ?? Number.POSITIVE_INFINITY) &&
    value < (exclusiveMaximum ?? Number.POSITIVE_INFINITY)
  );
}
