import { massClosure } from '../../model/loop/mass-balance.ts';
import { entry, NUMBER, PERCENT, RATE } from './entry.ts';
import { circulating, conditions, feedRate, type Quantity } from './quantity.ts';

/** A quantity read off the feed at choke. */
function fromFeedAtChoke(
  name: string,
  symbol: string,
  units: typeof RATE | typeof PERCENT,
  meaning: string,
  ofFeedAtChoke: NonNullable<Quantity['ofFeedAtChoke']>,
): Quantity {
  const of: Quantity['of'] = (s) => ofFeedAtChoke(s.state.feedAtChoke, feedRate(s));
  return { ...entry('loop', name, symbol, units, meaning, of), ofFeedAtChoke };
}

/** What goes round. */
export const LOOP: readonly Quantity[] = [
  entry(
    'loop',
    'passes',
    'G/F',
    NUMBER,
    'mean number of times a particle meets the wheel',
    (s) => circulating(s) / feedRate(s),
  ),
  entry(
    'loop',
    'circulatingLoad',
    'G/F − 1',
    NUMBER,
    'what returns to the rotor over what is fed',
    (s) => circulating(s) / feedRate(s) - 1,
  ),
  entry(
    'loop',
    'loading',
    'λ',
    ['1', '1', 'kg_per_kg'],
    'circulating solids over air, by mass',
    (s) => conditions(s).loading,
  ),
  entry(
    'loop',
    'holdup',
    'M',
    ['kg', 'kg', 'kg'],
    'solids in the loop',
    (s) => circulating(s) * s.case.loop.loopTime,
  ),
  entry(
    'loop',
    'residence',
    'M/F',
    ['s', 's', 's'],
    'mean time in the loop',
    (s) => (circulating(s) * s.case.loop.loopTime) / feedRate(s),
  ),
  fromFeedAtChoke('feedAtChoke', 'F_c', RATE, 'feed rate at which these settings choke', (choke) => choke),
  fromFeedAtChoke(
    'feedMargin',
    'F_c/F − 1',
    PERCENT,
    'how far the feed may rise before the mill chokes',
    (choke, feed) => choke / feed - 1,
  ),
  entry('loop', 'massClosure', '|Σp − F|/F', NUMBER, 'mass the solve lost or made, relative', (s) =>
    massClosure(s.state),
  ),
];
