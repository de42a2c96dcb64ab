import { type Campaign, campaignFrom, campaignJson, campaignZip, isCampaign } from '../desk/campaign.ts';
import type { CaseText } from './case-text.ts';
import { byId } from './dom.ts';
import { download, fileName } from './download.ts';

/** Largest file taken in [bytes]. */
const LARGEST = 16e6;

/** What the buttons about files act on. */
export interface FileActions {
  readonly text: CaseText;
  readonly campaign: () => Campaign;
  readonly take: (campaign: Campaign) => void;
  readonly setFiles: (files: Campaign['files']) => void;
  readonly version: string;
}

/** Opening, saving, and the files that belong to the case. */
export class CampaignFiles {
  private readonly actions: FileActions;

  constructor(actions: FileActions) {
    this.actions = actions;
    const input = byId<HTMLInputElement>('file-open')!;
    for (const id of ['open-campaign', 'add-files']) byId(id)!.addEventListener('click', () => input.click());
    input.addEventListener('change', () => {
      void this.open([...(input.files ?? [])]).then(() => {
        input.value = '';
      });
    });
    document.addEventListener('dragover', (event) => event.preventDefault());
    document.addEventListener('drop', (event) => {
      event.preventDefault();
      void this.open([...(event.dataTransfer?.files ?? [])]);
    });
    const name = () => fileName(actions.text.valueAt(['title']) ?? '');
    byId('save-campaign')!.addEventListener('click', () =>
      download(
        `${name()}.grindloop.json`,
        campaignJson(actions.campaign(), actions.version),
        'application/json',
      ),
    );
    byId('save-folder')!.addEventListener('click', () =>
      download(`${name()}.zip`, campaignZip(actions.campaign()), 'application/zip'),
    );
    byId('save-text')!.addEventListener('click', () =>
      download(`${name()}.yaml`, actions.campaign().text, 'text/yaml'),
    );
    byId('print-sheet')!.addEventListener('click', () => print());
  }

  /** A campaign or case replaces what is on the desk; any other file is laid beside the case. */
  async open(files: readonly File[]): Promise<void> {
    const said: string[] = [];
    for (const file of files) {
      try {
        if (file.size > LARGEST) throw new Error(`it is larger than ${LARGEST / 1e6} MB`);
        const bytes = new Uint8Array(await file.arrayBuffer());
        if (isCampaign(file.name, bytes)) this.actions.take(campaignFrom(file.name, bytes));
        else this.actions.setFiles({ ...this.actions.campaign().files, [file.name]: bytes });
        said.push(`${file.name} opened.`);
      } catch (error) {
        said.push(`${file.name} was not opened: ${(error as Error).message}.`);
      }
    }
    byId('kept')!.textContent = said.join(' ');
  }
}
