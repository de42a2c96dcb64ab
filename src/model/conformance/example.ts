import type { LawChoice, LawHeader, Parameter } from '../parameters.ts';

/**
 * A law with its presets and typical values: what conformance and examples use.
 *
 * @throws RangeError where a parameter has neither
 */
export function exampleOf(law: LawHeader): LawChoice {
  return choiceOf(law, ({ name, preset, typical }) => {
    const value = preset?.value ?? typical;
    if (value === undefined)
      throw new RangeError(`${law.name}.${name} has neither a preset nor a typical value`);
    return value;
  });
}

/**
 * The example, and the same with each parameter in turn at either end of what is usual of it, else of its range: where a
 * law must still give numbers.
 */
export function extremesOf(law: LawHeader): LawChoice[] {
  const example = exampleOf(law);
  const ends = law.parameters.flatMap((parameter) =>
    endsOf(parameter).map((value) => ({ ...example, [parameter.name]: value })),
  );
  return [example, ...ends];
}

function endsOf({ usual, minimum, exclusiveMinimum, maximum, exclusiveMaximum }: Parameter): number[] {
  const range = usual?.of === undefined ? usual : undefined;
  const low = range?.low ?? minimum;
  const high = range?.high ?? maximum;
  const allowed = (value: number | undefined): value is number =>
    value !== undefined &&
    Number.isFinite(value) &&
    value > (exclusiveMinimum ?? Number.NEGATIVE_INFINITY) &&
    value < (exclusiveMaximum ?? Number.POSITIVE_INFINITY);
  return [low, high].filter(allowed);
}

function choiceOf(law: LawHeader, valueFor: (parameter: Parameter) => number): LawChoice {
  return {
    law: law.name,
    ...Object.fromEntries(law.parameters.map((parameter) => [parameter.name, valueFor(parameter)])),
    ...(law.table ? { points: law.table.typical } : {}),
  };
}
