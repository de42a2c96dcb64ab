import { pressureAtAltitude, saturationPressure } from '../../model/air.ts';
import type { Air } from '../../model/case.ts';
import { AIR, ALTITUDE, FLOW_STATES } from '../../model/parameters/air-parameters.ts';
import { MOST_VAPOUR } from '../outcome/operating-cautions.ts';
import { formatNumber, formatQuantity } from '../units/display.ts';
import { namesOf, readNumbers } from './block.ts';
import { type Block, childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice } from './reading-context.ts';
import { enter } from './record-evidence.ts';

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
  const pressure = altitude === undefined ? numbers.pressure : pressureAtAltitude(altitude);
  refuseVapour(context, block, { ...numbers, pressure });
  if (altitude === undefined) return { ...numbers, flowState };
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

/** Room air that is heated keeps its water: 20 °C and 50 %. */
const ROOM = 0.5 * saturationPressure(293.15);

/** Inlet air with so much vapour that the model's dry-air properties do not hold is refused (eq. 25). */
function refuseVapour(
  context: Context,
  block: Block | undefined,
  { temperature, humidity, pressure }: Pick<Air, 'temperature' | 'humidity' | 'pressure'>,
): void {
  const saturated = saturationPressure(temperature);
  const share = (humidity * saturated) / pressure;
  if (!(share > MOST_VAPOUR)) return;
  const room = formatQuantity(ROOM / saturated, '%', 2);
  fault(
    context,
    block,
    'air.humidity',
    `${formatQuantity(humidity, '%', 3)} at ${formatQuantity(temperature, 'degC', 3)} makes water vapour ${formatNumber(100 * share, 3)} % of the pressure, must be at most ${100 * MOST_VAPOUR} %: give the relative humidity at the inlet temperature (room air of 20 °C and 50 %, heated to this temperature, has ${room})`,
  );
}
