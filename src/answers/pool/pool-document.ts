import { formatNumber } from '../../scenario/units/display.ts';
import type { PooledCoefficient } from '../../trials/pool/pool.ts';
import { type AnswerDocument, type AnswerTable, columns } from '../document.ts';
import { listed } from '../join-words.ts';

/** Several campaigns pooled. */
export interface PoolAnswer {
  readonly side: 'machine' | 'material';
  /** Name of the machine or material. */
  readonly of: string;
  readonly campaigns: readonly string[];
  /** Campaigns whose fit does not fit within the measuring errors. */
  readonly misfits: readonly string[];
  readonly coefficients: readonly PooledCoefficient[];
  /** Entry as text, and the file it was written to. */
  readonly entry: string;
  readonly file?: string;
}

/** What several campaigns say of one machine or material; the entry is its listing. */
export function poolDocument(answer: PoolAnswer): AnswerDocument {
  const { side, of, campaigns, coefficients, misfits, entry, file } = answer;
  const known = coefficients.filter(({ campaigns: count }) => count > 0);
  const apart = known.filter(({ between, error }) => between > error);
  return {
    command: 'pool',
    found: known.length > 0,
    title: `Pooled ${side}: ${of}`,
    answer: [
      `${campaigns.length} campaigns determine ${known.length} of the ${coefficients.length} coefficients of the ${side} ${of}${known.length > 0 ? `: ${listed(known.map(({ symbol }) => symbol))}` : ''}.`,
      ...(apart.length > 0
        ? [
            `From campaign to campaign ${listed(apart.map(({ symbol }) => symbol))} ${apart.length > 1 ? 'differ' : 'differs'} by more than the error of the mean: more campaigns will not narrow ${apart.length > 1 ? 'them' : 'it'} much.`,
          ]
        : []),
      file === undefined
        ? 'No entry was written; -o ENTRY.yaml writes it.'
        : `The entry is in ${file}; a scenario uses it by ${side}: { from: ${file} }`,
    ],
    sections: [
      { id: 'coefficients', heading: 'Pooled coefficients', tables: [coefficientTable(coefficients)] },
      { id: 'entry', heading: 'Entry for a scenario', listing: entry, onPageOnly: true },
    ],
    notes: [
      'Each coefficient is pooled on its own, with random effects; what two of them have in common is lost.',
      ...misfits.map(
        (name) =>
          `${name} does not fit within its measuring errors: its coefficients carry the wider bands of that fit.`,
      ),
      ...(campaigns.length < FEW
        ? [`With ${campaigns.length} campaigns the spread from campaign to campaign is hardly known.`]
        : []),
    ],
    cautions: [],
    keys: {
      side,
      of,
      campaigns,
      misfits,
      coefficients: coefficients.map(({ values, ...rest }) => ({
        ...rest,
        values: Object.fromEntries(values),
      })),
      entry,
      file: file ?? null,
    },
  };
}

/** Campaigns below which their spread is hardly known (`assumed`). */
const FEW = 5;

const percent = (share: number): string => formatNumber(100 * share, 2);

function coefficientTable(coefficients: readonly PooledCoefficient[]): AnswerTable {
  return {
    columns: columns(
      'coefficient',
      'pooled',
      'standard error, %',
      'campaign to campaign, %',
      'spread for the next, %',
      'campaigns',
    ),
    rows: coefficients.map(({ symbol, values, unit, value, error, between, spread, campaigns }) => [
      `${symbol}  ${values[0]![0]}${unit === '1' ? '' : ` [${unit}]`}`,
      formatNumber(value),
      campaigns > 0 ? percent(error) : '–',
      campaigns > 0 ? percent(between) : '–',
      percent(spread),
      campaigns > 0 ? String(campaigns) : 'none: belief of before',
    ]),
  };
}
