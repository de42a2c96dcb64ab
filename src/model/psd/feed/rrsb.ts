import type { FeedLaw } from './feed-law.ts';

/** −ln of the share above the top. */
const LOG_TOP = -Math.log(1e-6);

/** Q = 1 − exp(−(x/x′)^n), x′ = x63.2 (Rosin, Rammler, Sperling, Bennett; `derived`, DIN 66145). */
export const rrsb: FeedLaw = {
  name: 'rrsb',
  summary: 'Rosin-Rammler: location x63 and exponent',
  label: 'derived',
  source: 'DIN 66145',
  parameters: [
    {
      name: 'x63',
      typical: 400e-6,
      symbol: 'x′',
      unit: 'm',
      shownIn: 'um',
      meaning: 'size below which 63.2 % of the feed lies',
      usual: { low: 5e-6, high: 0.02 },
      exclusiveMinimum: 0,
      maximum: 0.5,
    },
    {
      name: 'exponent',
      typical: 1.2,
      symbol: 'n',
      unit: '1',
      shownIn: '1',
      meaning: 'width exponent, larger is narrower',
      usual: { low: 0.5, high: 5 },
      minimum: 0.3,
      maximum: 10,
    },
  ],
  undersize: ({ x63, exponent }, size) => -Math.expm1(-((size / (x63 as number)) ** (exponent as number))),
  top: ({ x63, exponent }) => (x63 as number) * LOG_TOP ** (1 / (exponent as number)),
};
