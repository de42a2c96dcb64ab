import { type Kind, PERCENTILES, type Score, scoreCampaign } from '../campaign/score.ts';

export const SEED = 20_000;

/** What many campaigns of one kind show. */
export interface CampaignFigures {
  readonly campaigns: number;
  /** Share of campaigns whose true coefficient lies within its 95 % interval, by symbol. */
  readonly coefficients: Readonly<Record<string, number>>;
  /** Share of blind settings whose true percentile lies within its 95 % band, by percentile; and of power. */
  readonly bands: readonly number[];
  readonly power: number;
  /** Median blind error, and the median error the fit foretells, by percentile. */
  readonly errors: readonly number[];
  readonly foretold: readonly number[];
  /** Share of campaigns said not to fit. */
  readonly lackOfFit: number;
  readonly leastEffective: number;
  readonly secondsPerFit: number;
}

/** Sums up scores of one kind. */
export function figuresOf(scores: readonly Score[]): CampaignFigures {
  const blind = scores.flatMap((score) => score.blind);
  const symbols = Object.keys(scores[0]?.within ?? {});
  return {
    campaigns: scores.length,
    coefficients: Object.fromEntries(
      symbols.map((symbol) => [symbol, mean(scores.map(({ within }) => within![symbol]!))]),
    ),
    bands: PERCENTILES.map((_, i) => mean(blind.map(({ within }) => within[i]!))),
    power: mean(blind.map(({ power }) => power)),
    errors: PERCENTILES.map((_, i) => median(blind.map(({ errors }) => errors[i]!))),
    foretold: PERCENTILES.map((_, i) => median(blind.map(({ foretold }) => foretold[i]!))),
    lackOfFit: mean(scores.map(({ lackOfFit }) => lackOfFit)),
    leastEffective: Math.min(...scores.map(({ effective }) => effective)),
    secondsPerFit: mean(scores.map(({ seconds }) => seconds)),
  };
}

/** Campaigns of one kind with seeds in a row. */
export function countCampaigns(kind: Kind, campaigns: number, from = SEED): CampaignFigures {
  return figuresOf(Array.from({ length: campaigns }, (_, k) => scoreCampaign(kind, from + k)));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

/** One figure a name, for the list of the bench. */
export function flatFigures(figures: CampaignFigures): Record<string, number> {
  const by = (name: string, values: readonly number[]) =>
    PERCENTILES.map((share, i) => [`${name}_x${Math.round(100 * share)}`, values[i]!]);
  return Object.fromEntries([
    ...Object.entries(figures.coefficients).map(([symbol, value]) => [`covered_${symbol}`, value]),
    ...by('covered', figures.bands),
    ...by('median_error', figures.errors),
    ['covered_power', figures.power],
    ['lack_of_fit', figures.lackOfFit],
    ['seconds_per_fit', figures.secondsPerFit],
  ]);
}
