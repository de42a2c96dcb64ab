import { pressureAtAltitude } from '../../model/air.ts';
import type { Air } from '../../model/case.ts';
import { AIR, ALTITUDE, FLOW_STATES } from '../../model/parameters/air.ts';
import { namesOf, readNumbers } from './block.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice } from './context.ts';
import { enter } from './evidence.ts';
import { childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';

const [PRESSURE] = AIR.filter((parameter) => parameter.name === 'pressure');

/** `air:` — flow, its state, and the inlet air; the pressure follows from `altitude` where that is given. */
export function readAir(context: Context, node: Node | undefined): Air {
  const block = asBlock(context, node, 'air');
  checkKeys(context, block, 'air', [...namesOf(AIR), 'altitude', 'state']);
  const altitude = readNumber(context, childOf(block, 'altitude'), 'air.altitude', ALTITUDE);
  if (altitude !== undefined && childOf(block, 'pressure')) {
    fault(context, block, 'air.altitude', 'must not be given together with air.pressure; keep one');
  }
  const rest = altitude === undefined ? AIR : AIR.filter((parameter) => parameter !== PRESSURE);
  const numbers = readNumbers<'flow' | 'temperature' | 'pressure' | 'humidity'>(context, block, 'air', rest);
  const flowState =
    readChoice(context, childOf(block, 'state'), join('air', 'state'), FLOW_STATES) ?? 'inlet';
  if (altitude === undefined) return { ...numbers, flowState };
  const pressure = pressureAtAltitude(altitude);
  context.parameters.set('air.pressure', PRESSURE!);
  enter(
    context,
    'air.pressure',
    PRESSURE!,
    { value: pressure, shownIn: 'Pa' },
    {
      label: 'derived',
      source: 'standard atmosphere at the altitude given',
    },
  );
  return { ...numbers, pressure, flowState };
}
