import { WORTH_MOVING } from '../../src/search/next/value-of-trial.ts';
import type { Curves, ForecastFigures } from './next-curve.ts';
import type { Moves, StopFigures } from './next-stop.ts';

const percent = (value: number) => `${(100 * value).toFixed(1)} %`;

/** The curves as rows, one column a trial. */
export function curvesText({ campaigns, next, oneAtATime }: Curves): string {
  const row = (name: string, values: readonly number[], shown: (value: number) => string) =>
    name.padEnd(34) + values.map((value) => shown(value).padStart(8)).join('');
  const times = (value: number) => value.toFixed(2);
  const { forecast } = next;
  const of = (pick: (one: ForecastFigures) => number) => forecast.map(pick);
  return [
    `median over ${campaigns} campaigns after 1 to 5 trials`,
    row('error of x95, by next', next.error, percent),
    row('error of x95, one at a time', oneAtATime.error, percent),
    row('doubt of the fit, by next', next.doubt, percent),
    row('doubt of the fit, one at a time', oneAtATime.doubt, percent),
    'what next foretold of each trial before it was run, over x50 and x95',
    row(
      'campaigns counted',
      of((one) => one.campaigns),
      String,
    ),
    row(
      'doubt foretold',
      of((one) => one.foretold),
      percent,
    ),
    row(
      'doubt found by the fit',
      of((one) => one.found),
      percent,
    ),
    row(
      'found over foretold, median',
      of(({ ratio }) => ratio[1]),
      times,
    ),
    row(
      '  lower quartile',
      of(({ ratio }) => ratio[0]),
      times,
    ),
    row(
      '  upper quartile',
      of(({ ratio }) => ratio[2]),
      times,
    ),
    row(
      'truth within one foretold (0.68)',
      of((one) => one.within),
      times,
    ),
    '',
  ].join('\n');
}

/** What the stop was worth, in words. */
export function stopText({ campaigns, stop, goOn, stoppedAtOnce, stops }: StopFigures): string {
  const limit = percent(WORTH_MOVING);
  const row = (name: string, { count, every, feed, largest, foretold }: Moves) =>
    `${name.padEnd(34)} ${count} trials; moved every setting by less than ${limit}: ${percent(every)}, the feed rate: ${percent(feed)}; median of the largest move ${percent(largest)}, foretold ${percent(foretold)}`;
  return [
    `one more trial than next says, over ${campaigns} campaigns`,
    row('it said stop', stop),
    row('it said go on after one trial', goOn),
    `it said stop after one trial       ${stoppedAtOnce} campaigns`,
    `first stop after so many trials    ${stops.join(' ')}`,
    '',
  ].join('\n');
}
