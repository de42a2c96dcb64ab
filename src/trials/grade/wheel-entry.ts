import type { GradeFit } from './efficiency.ts';

/** Coefficients of a wheel entry in a scenario, from a fitted grade efficiency. */
export function wheelEntry(fit: GradeFit): string {
  const number = (value: number): string => Number(value.toPrecision(4)).toString();
  return [
    '# fitted on measured feed, fines and coarse; the cut holds for the settings it was measured at,',
    '# so cutFactor must be set on a run with known wheel speed and air flow',
    `efficiency: ${fit.law}`,
    'coefficients:',
    `  sharpness: ${number(fit.sharpness)}   # ± ${number(fit.errors.sharpness)}`,
    `  bypass: ${number(fit.bypass)}   # ± ${number(fit.errors.bypass)}`,
    '',
  ].join('\n');
}
