import { bracket, middleOf } from '../../numerics/root.ts';
import { SOURCES } from '../../sources.ts';
import type { EfficiencyLaw } from './efficiency-law.ts';

/** T = (e^{az} − 1)/(e^{az} + e^a − 2) (eq. 19; `recalled`: Lynch & Rao 1975); κ from a in closed form, a by bisection. */
export const exponential: EfficiencyLaw = {
  name: 'exponential',
  summary: 'exponential of size over cut',
  label: 'recalled',
  source: SOURCES.lynchRao1975,
  parameters: [],
  sharpnessRange: [0.12, 0.98],
  shape: (sharpness) => middleOf(bracket((a) => sharpnessOf(a) <= sharpness, 1e-6, 600)),
  // (e^a − 1)/(e^{az} + e^a − 2), divided through by e^{a·max(1, z)} so that nothing overflows
  passing: (z, a) => {
    if (z <= 1) return -Math.expm1(-a) / (Math.exp(a * (z - 1)) + 1 - 2 * Math.exp(-a));
    return (-Math.expm1(-a) * Math.exp(a * (1 - z))) / (1 + Math.exp(a * (1 - z)) - 2 * Math.exp(-a * z));
  },
};

/** κ = z25/z75: T = s at e^{az} = (1 + s(e^a − 2))/(1 − s). */
function sharpnessOf(a: number): number {
  const logAt = (s: number) => Math.log1p((s * Math.expm1(a)) / (1 - s));
  return a > 500 ? (a + Math.log(1 / 3)) / (a + Math.log(3)) : logAt(0.25) / logAt(0.75);
}
