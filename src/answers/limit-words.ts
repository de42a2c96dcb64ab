import type { Scenario } from '../scenario/scenario.ts';
import { BY_CHOKING, BY_MOTOR, BY_SPEED, type End } from './reach.ts';
import { requirementTopic } from './words.ts';

/** What ends a range, in words: `motor load`, `fineness`, `choking`. */
export function endWords({ spec }: Scenario, { by }: Pick<End, 'by'>): string {
  if (by === BY_CHOKING) return 'choking';
  if (by === BY_SPEED) return 'the highest speed allowed';
  if (by === BY_MOTOR) return 'the power of the motor';
  return by < 0 ? 'the end of the range' : requirementTopic(spec[by]!);
}
