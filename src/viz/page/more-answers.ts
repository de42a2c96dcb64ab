import { DOCUMENTS, type DocumentName } from '../../answers/desk/desk-documents.ts';
import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import { describeFault } from '../../scenario/errors.ts';
import { htmlDocument } from '../html/document-text.ts';
import { trusted } from '../html/template.ts';
import type { Crew } from './crew.ts';
import { byId, element } from './dom.ts';
import { download, fileName } from './download.ts';

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
  private readonly root = byId('document')!;
  private shown: { readonly title: string; readonly body: string } | undefined;
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
    byId('document-save')!.addEventListener('click', () => this.save());
  }

  /** The case has changed: what is shown is of the one before. */
  caseChanged(): void {
    if (this.shown) byId('document-state')!.textContent = 'The case has changed since this was computed.';
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

  private show(reply: { readonly title: string; readonly body: string }): void {
    this.shown = reply;
    // a tree of its own: its anchors may have the names of this page's
    const tree = this.root.shadowRoot ?? this.root.attachShadow({ mode: 'open' });
    const style = element('style', {});
    style.textContent = pageStyle();
    const body = element('div', { class: 'shown' });
    body.innerHTML = reply.body
      .replace(/<(\/?)main\b/g, '<$1div')
      .replace(/<a class="skip"[\s\S]*?<\/header>/, '');
    tree.replaceChildren(style, body);
    byId('document-save')!.hidden = false;
    this.busy(false, `computed in ${seconds(performance.now() - this.began)}`);
  }

  private save(): void {
    if (!this.shown) return;
    const { title, body } = this.shown;
    const parts = { title, body: trusted(body), style: pageStyle(), data: {}, texts: {}, scripts: [] };
    const none = () => {
      throw new Error('a document without scripts needs no hash');
    };
    download(`${fileName(title)}.html`, htmlDocument(parts, { hash: none, deflate: none }), 'text/html');
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

const seconds = (milliseconds: number): string => `${(milliseconds / 1000).toFixed(1)} s`;

/** Style of the pages, as this one carries it. */
function pageStyle(): string {
  return document.querySelector('style')!.textContent!;
}
