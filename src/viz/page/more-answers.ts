import { DOCUMENTS, type DocumentName } from '../../answers/desk/desk-documents.ts';
import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import { describeFault } from '../../scenario/errors.ts';
import type { Crew } from './crew.ts';
import { DocumentView, type ShownDocument } from './document-view.ts';
import { byId, element } from './dom.ts';

const WORDS: Readonly<Record<DocumentName, string>> = {
  find: 'settings that meet the spec best (find)',
  compare: 'wheels side by side at equal x95 (compare)',
  scale: 'the same product on another machine (scale)',
  plant: 'what stands around the mill (plant)',
  time: 'start-up and feeder noise in time (time)',
};

/** Documents of the commands, computed here in a worker that can be stopped; each can be saved as a page. */
export class MoreAnswers {
  private readonly crew: Crew;
  private readonly about: () => CaseFiles;
  private readonly view = new DocumentView(byId('document')!);
  private began = 0;
  private clock: number | undefined;

  constructor(crew: Crew, about: () => CaseFiles, machines: readonly string[]) {
    this.crew = crew;
    this.about = about;
    const name = byId<HTMLSelectElement>('document-name')!;
    const to = byId<HTMLSelectElement>('document-machine')!;
    name.append(...DOCUMENTS.map((each) => element('option', { value: each }, WORDS[each])));
    to.append(...machines.map((each) => element('option', { value: each }, each)));
    const place = byId('document-to')!;
    const offer = () => {
      place.hidden = name.value !== 'scale';
    };
    name.addEventListener('change', offer);
    offer();
    byId('document-compute')!.addEventListener(
      'click',
      () => void this.compute(name.value as DocumentName, to.value),
    );
    byId('document-stop')!.addEventListener('click', () => {
      this.crew.giveUp('long', 'document');
      this.busy(false, 'stopped');
    });
    byId('document-save')!.addEventListener('click', () => this.view.save());
  }

  /** The case has changed: what is shown is of the one before. */
  caseChanged(): void {
    if (this.view.document)
      byId('document-state')!.textContent = 'The case has changed since this was computed.';
  }

  private async compute(name: DocumentName, to: string): Promise<void> {
    this.crew.giveUp('long', 'document');
    this.busy(true, '');
    const wish = name === 'scale' ? { name, to } : { name };
    try {
      const reply = await this.crew.ask('long', this.about(), { kind: 'document', wish });
      if ('faults' in reply) this.busy(false, reply.faults.map(describeFault).join('; '));
      else this.show(reply);
    } catch (error) {
      this.busy(false, (error as Error).message);
    }
  }

  private show(reply: ShownDocument): void {
    this.view.show(reply);
    byId('document-save')!.hidden = false;
    this.busy(false, `computed in ${seconds(performance.now() - this.began)}`);
  }

  private busy(busy: boolean, words: string): void {
    clearInterval(this.clock);
    byId('document-stop')!.hidden = !busy;
    const state = byId('document-state')!;
    state.textContent = words;
    if (!busy) return;
    this.began = performance.now();
    const tell = () => {
      state.textContent = `computing, ${seconds(performance.now() - this.began)}`;
    };
    tell();
    this.clock = setInterval(tell, 500) as unknown as number;
  }
}

export const seconds = (milliseconds: number): string => `${(milliseconds / 1000).toFixed(1)} s`;
