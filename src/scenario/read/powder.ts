import type { Parameter } from '../../model/parameters.ts';
import type { Scenario } from '../scenario.ts';
import { formatQuantity } from '../units/display.ts';
import { namesOf, readNumbers } from './block.ts';
import { childOf, type Node } from './node.ts';
import { asBlock, type Context, checkKeys, fault } from './reading-context.ts';

const mass = (name: string, symbol: string, meaning: string, preset?: number): Parameter => ({
  name,
  symbol,
  unit: 'kg',
  shownIn: 'kg',
  meaning,
  minimum: 0,
  ...(preset === undefined
    ? {}
    : { preset: { value: preset, label: 'assumed', source: 'unless the file gives another' } }),
});

/** `powder:` — what `next` may spend. */
const POWDER: readonly Parameter[] = [
  mass('have', 'm', 'powder available'),
  mass('reserve', 'm_r', 'powder to keep back', 0),
  mass('lossPerRun', 'm_l', 'powder lost in filling and cleaning, each run', 0),
  mass('minimumRun', 'm_min', 'least powder for a run that reaches steady state and can be sampled', 0),
];

/** Reads `powder:`. */
export function readPowder(context: Context, node: Node | undefined): Scenario['powder'] {
  const block = asBlock(context, node, 'powder');
  if (!block) return undefined;
  checkKeys(context, block, 'powder', namesOf(POWDER));
  const powder = readNumbers<'have' | 'reserve' | 'lossPerRun' | 'minimumRun'>(
    context,
    block,
    'powder',
    POWDER,
  );
  const show = (mass: number) => formatQuantity(mass, 'kg');
  for (const name of ['reserve', 'lossPerRun', 'minimumRun'] as const) {
    if (powder[name] > powder.have)
      fault(
        context,
        childOf(block, name),
        `powder.${name}`,
        `must be at most powder.have (${show(powder.have)}), is ${show(powder[name])}`,
      );
  }
  return powder;
}
