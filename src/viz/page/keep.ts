import { type Campaign, campaignFrom, campaignJson } from '../desk/campaign.ts';
import { byId, whenQuiet } from './dom.ts';

/** Keeps the campaign in the browser's storage, so that a reload loses nothing; asks before leaving where it cannot. */
export class Keep {
  private readonly key = `grindloop desk ${location.pathname}`;
  private readonly campaign: () => Campaign;
  private readonly version: string;
  private kept = true;
  readonly soon = whenQuiet(300, () => this.keep());

  constructor(campaign: () => Campaign, version: string) {
    this.campaign = campaign;
    this.version = version;
    addEventListener('pagehide', () => this.keep());
    addEventListener('beforeunload', (event) => {
      if (!this.kept) event.preventDefault();
    });
  }

  /** What was kept before, if anything. */
  before(): Campaign | undefined {
    try {
      const text = localStorage.getItem(this.key);
      return text === null ? undefined : campaignFrom('kept.json', new TextEncoder().encode(text));
    } catch {
      return undefined;
    }
  }

  private keep(): void {
    try {
      localStorage.setItem(this.key, campaignJson(this.campaign(), this.version));
      this.kept = true;
    } catch {
      this.kept = false;
    }
    byId('kept')!.textContent = this.kept
      ? 'Kept in this browser; nothing leaves this page.'
      : 'Not kept: this browser gives no room. Save the campaign before you close the page.';
  }
}
