import { Document } from 'yaml';
import { siUnitOf } from '../../scenario/units/display.ts';
import type { PooledCoefficient } from './pool.ts';

/** What an entry says besides its numbers. */
interface EntryHead {
  /** Entry of the catalogue or file that it is laid over. */
  readonly from: string;
  /** Names of the campaigns. */
  readonly campaigns: readonly string[];
  /** ISO date. */
  readonly date: string;
}

const DIGITS = 6;

/**
 * Pooled coefficients as an entry of a catalogue: laid over the entry they were found on, each with label, source and spread,
 * which is the prior of every later answer and fit. `machine: { from: FILE }` or `material: { from: FILE }` takes it up.
 */
export function pooledEntry(
  coefficients: readonly PooledCoefficient[],
  side: 'machine' | 'material',
  { from, campaigns, date }: EntryHead,
): string {
  const file = new Document({ from });
  for (const one of coefficients) {
    const source =
      one.campaigns > 0
        ? `pooled from ${one.campaigns} of ${campaigns.length} campaigns (${campaigns.join(', ')}), ${date}; standard error ${percent(one.error)}, from campaign to campaign ${percent(one.between)}`
        : `no campaign of ${campaigns.join(', ')} determines it: the belief of before`;
    for (const [path, value] of one.values) {
      const keys = path.split('.').slice(1);
      const record = {
        value: withUnit(value, one.unit),
        label: one.campaigns > 0 ? 'fitted' : 'assumed',
        source,
        spread: percent(Math.min(one.spread, MOST)),
      };
      file.setIn(keys, file.createNode(record, { flow: true }));
    }
  }
  return `# written by grindloop pool; a scenario takes it up by ${side}: { from: FILE }\n${file.toString({ lineWidth: 0 })}`;
}

/** Largest spread an entry may state. */
const MOST = 2;

const percent = (share: number): string => `${Number((100 * share).toPrecision(3))} %`;

function withUnit(value: number, unit: string): string {
  const si = siUnitOf(unit);
  const text = `${Number(value.toPrecision(DIGITS))}`;
  return si === '1' ? text : `${text} ${si}`;
}
