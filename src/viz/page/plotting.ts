/** What of the plotting library is used. */
export interface Plotting {
  react(root: HTMLElement, data: unknown, layout: unknown, config: unknown): Promise<unknown>;
}

declare const Plotly: Plotting | undefined;

/** The plotting library, where the page carries it. */
export function plotting(): Plotting | undefined {
  return typeof Plotly === 'undefined' ? undefined : Plotly;
}
