/** Colours of a drawing; concrete, or references to the page's own. */
export interface Theme {
  readonly paper: string;
  readonly ink: string;
  readonly soft: string;
  readonly grid: string;
  /** The one accent: what is recommended, pinned or asked about. */
  readonly accent: string;
  readonly accentSoft: string;
  /** Paper let through by half, laid over what does not meet the spec. */
  readonly veil: string;
  /** Hatching of what does not run. */
  readonly hatch: string;
  /** Band about an uncertain line. */
  readonly band: string;
  /** Ordered light to strong, even steps in lightness, safe for colour-blind eyes. */
  readonly scale: readonly string[];
  /** Lines told apart, always also by dash and label. */
  readonly series: readonly string[];
}

export const LIGHT: Theme = {
  paper: '#fcfbf8',
  ink: '#1d2227',
  soft: '#565e67',
  grid: '#e7e3da',
  accent: '#b03a12',
  accentSoft: '#f0d4c5',
  veil: 'rgba(252,251,248,0.62)',
  hatch: '#8f8a80',
  band: 'rgba(29,34,39,0.13)',
  scale: ['#f3efdf', '#dfe7d8', '#c8ddd3', '#aed1cd', '#93c3c6', '#78b4bd', '#5ea3b2', '#4691a5', '#307e96'],
  series: ['#1d2227', '#1f6f8b', '#8a6100', '#6d4a8f', '#4d7a29'],
};

/** For a figure in a file of its own, to stand on a white page or slide. */
export const WHITE: Theme = { ...LIGHT, paper: '#ffffff', veil: 'rgba(255,255,255,0.62)' };

export const DARK: Theme = {
  paper: '#15181b',
  ink: '#e9e6df',
  soft: '#a8aeb5',
  grid: '#2a2f35',
  accent: '#ff9b6a',
  accentSoft: '#573020',
  veil: 'rgba(21,24,27,0.62)',
  hatch: '#6f757c',
  band: 'rgba(233,230,223,0.16)',
  scale: ['#1e262b', '#223339', '#274148', '#2c5058', '#325f69', '#396f7b', '#42808d', '#4d92a0', '#5ba5b3'],
  series: ['#e9e6df', '#7cc4dc', '#e0b252', '#c0a0e6', '#a6cf7d'],
};

/** Names of a theme's colours as the page's custom properties, and their values. */
export function properties(theme: Theme): [name: string, value: string][] {
  return Object.entries(theme).flatMap(([name, value]: [string, string | readonly string[]]) =>
    typeof value === 'string'
      ? [[`--${name}`, value] as [string, string]]
      : value.map((each, index): [string, string] => [`--${name}-${index}`, each]),
  );
}

/** A theme that takes its colours from the page it is drawn in. */
export const PAGE: Theme = {
  ...(Object.fromEntries(
    Object.keys(LIGHT)
      .filter((name) => name !== 'scale' && name !== 'series')
      .map((name) => [name, `var(--${name})`]),
  ) as Omit<Theme, 'scale' | 'series'>),
  scale: LIGHT.scale.map((_, index) => `var(--scale-${index})`),
  series: LIGHT.series.map((_, index) => `var(--series-${index})`),
};
