import type { LessonStep } from './step.ts';
import { equalFineness } from './steps/equal-fineness.ts';
import { onceOnly } from './steps/once-through.ts';
import { oneHit } from './steps/one-hit.ts';
import { sendBack } from './steps/send-back.ts';
import { slipsPast } from './steps/slips-past.ts';
import { tooMuch } from './steps/too-much.ts';
import { topAndRest } from './steps/top-and-rest.ts';
import { whichWheel } from './steps/which-wheel.ts';

/** The lesson in its order; the last is an extra. */
export const STEPS: readonly LessonStep[] = [
  oneHit,
  onceOnly,
  sendBack,
  equalFineness,
  topAndRest,
  whichWheel,
  tooMuch,
  slipsPast,
];
