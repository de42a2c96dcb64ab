import type { GradeFit } from './efficiency.ts';

/** What an entry says beyond the fit. */
interface EntryOptions {
  /** λ: mass to the wheel over mass of air in the test [kg/kg], where it is known. */
  readonly loading?: number;
  /** Files the curves came from. */
  readonly source?: string;
  /** Whether the three curves close. */
  readonly closes?: boolean;
}

/** Coefficients of the loading taken where a test gives its loading (the catalogue's, `assumed`): κ = κ_0 e^(−bλ), eq. 20. */
const LOADING = { sharpness: 0.03, bypass: 0.02 } as const;

/** κ_0 and τ_0, without load, from those of a test at loading λ: κ_0 = κ e^(bλ), τ_0 = 1 − (1−τ) e^(dλ) (eq. 20). */
export function withoutLoad(
  { sharpness, bypass }: GradeFit,
  loading: number,
): { sharpness: number; bypass: number } {
  return {
    sharpness: Math.min(0.99, sharpness * Math.exp(LOADING.sharpness * loading)),
    bypass: Math.max(0, 1 - (1 - bypass) * Math.exp(LOADING.bypass * loading)),
  };
}

/**
 * Coefficients of a wheel entry in a scenario, from a fitted grade efficiency: each with label, source and spread. With
 * the loading of the test κ_0 and τ_0 are those without load; without it the entry holds at the load of the test alone.
 * A fit that ended at the end of a range is no entry, and the text says why.
 */
export function wheelEntry(
  fit: GradeFit,
  { loading, source = 'three size curves', closes = true }: EntryOptions = {},
): string {
  if (fit.atBound.length > 0)
    return `# no entry: ${fit.atBound.join(' and ')} ended at the end of the range that is searched; check the three files and the law\n`;
  const own = loading === undefined ? fit : withoutLoad(fit, loading);
  const slopes = loading === undefined ? { sharpness: 0, bypass: 0 } : LOADING;
  const label = closes ? 'measured' : 'assumed';
  const record = (value: number, error: number): string => {
    const spread =
      closes && value > 0 && Number.isFinite(error) ? `, spread: ${digits((100 * error) / value, 2)} %` : '';
    return `{ value: ${digits(value, 4)}, label: ${label}, source: "${source.replace(/["\\\n]/g, ' ')}"${spread} }`;
  };
  return [
    '# fitted on measured feed, fines and coarse; the cut holds for the settings it was measured at,',
    '# so cutFactor must be set on a run with known wheel speed and air flow',
    loading === undefined
      ? '# sharpness and bypass hold at the loading of this test only, so their change with loading is set to 0; state --loading for those without load'
      : `# measured at ${digits(loading, 3)} kg/kg; sharpness and bypass without load by the loading coefficients below (assumed)`,
    ...(closes ? [] : ['# the three curves do not close: a sketch, without an error']),
    ...(fit.leakage > 0 ? [] : ['# these curves show no leakage: it stays at its default']),
    `efficiency: ${fit.law}`,
    'coefficients:',
    `  sharpness: ${record(own.sharpness, fit.errors.sharpness)}`,
    `  sharpnessLoading: ${slopes.sharpness}`,
    `  bypass: ${record(own.bypass, fit.errors.bypass)}`,
    `  bypassLoading: ${slopes.bypass}`,
    ...(fit.leakage > 0 ? [`  leakage: ${record(fit.leakage, fit.errors.leakage)}`] : []),
    '',
  ].join('\n');
}

function digits(value: number, count: number): string {
  return Number(value.toPrecision(count)).toString();
}
