import type { CaseFiles, Shelf } from '../../answers/desk/desk-files.ts';
import { AddressState, bindUndo } from './address.ts';
import { CaseText } from './case-text.ts';
import { Crew } from './crew.ts';
import { DeskPage } from './desk-page.ts';
import { byId } from './dom.ts';

/** What came with the page. */
export interface DeskData {
  readonly version: string;
  readonly text: string;
  readonly shelf: Shelf;
}

function start(): void {
  const data = JSON.parse(byId('data')!.textContent!) as DeskData;
  const crew = new Crew(byId('model')!.textContent!, data.shelf);
  const text = new CaseText(data.text);
  const page = new DeskPage(crew, text, data.shelf);
  bindUndo(
    new AddressState([text, page.window]),
    byId('undo') as HTMLButtonElement,
    byId('redo') as HTMLButtonElement,
  );
  window.grindloopDesk = {
    text,
    run: (about) => crew.ask('long', about ?? page.about(), { kind: 'case' }, 'script'),
  };
  page.changed();
  document.documentElement.dataset.ready = 'true';
}

declare global {
  interface Window {
    /** What the desk offers to whoever scripts it: the same numbers as the command line. */
    grindloopDesk?: {
      readonly text: CaseText;
      run(about?: CaseFiles): ReturnType<Crew['ask']>;
    };
  }
}

start();
