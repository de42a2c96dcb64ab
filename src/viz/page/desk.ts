import { type CaseFiles, namesOf, type Shelf } from '../../answers/desk/desk-files.ts';
import { AddressState, bindUndo } from './address.ts';
import { CampaignFiles } from './campaign-files.ts';
import { CaseText } from './case-text.ts';
import { Crew } from './crew.ts';
import { DeskPage } from './desk-page.ts';
import { byId } from './dom.ts';
import { Keep } from './keep.ts';
import { MoreAnswers } from './more-answers.ts';
import { offerFigures } from './take-figures.ts';
import { TrialsPanel } from './trials-panel.ts';
import { writeReport } from './write-report.ts';

/** What came with the page. */
export interface DeskData {
  readonly version: string;
  readonly text: string;
  readonly shelf: Shelf;
  /** Hash of the script that reports carry. */
  readonly reportHash: string;
}

function start(): void {
  const data = JSON.parse(byId('data')!.textContent!) as DeskData;
  const crew = new Crew(byId('model')!.textContent!, { shelf: data.shelf, version: data.version });
  const text = new CaseText(data.text);
  const page = new DeskPage(crew, text, data.shelf);
  const keep = new Keep(() => page.about(), data.version);
  const address = new AddressState([text, page.window]);
  const before = keep.before();
  if (before) {
    // the address names a case, which may be another than the one kept; its files are kept here alone
    if (new URLSearchParams(location.hash.replace(/^#at\?/, '')).has('case')) page.setFiles(before.files);
    else page.take(before);
  }
  bindUndo(address, byId<HTMLButtonElement>('undo'), byId<HTMLButtonElement>('redo'));
  const setFiles = (files: CaseFiles['files']) => {
    page.setFiles(files);
    trials.filesChanged();
    keep.soon();
  };
  const trials = new TrialsPanel({
    crew,
    text,
    about: () => page.about(),
    setFiles,
    measured: (measured) => page.setMeasured(measured),
  });
  page.onSolved(({ wheels }) => trials.wheels(wheels));
  new CampaignFiles({
    text,
    setFiles,
    version: data.version,
    campaign: () => page.about(),
    take: (campaign) => {
      page.take(campaign);
      trials.filesChanged();
      keep.soon();
    },
  });
  for (const [id, audience] of [
    ['save-report', 'engineer'],
    ['save-customer', 'customer'],
  ] as const)
    byId(id)!.addEventListener('click', () => {
      byId('kept')!.textContent = 'Writing the report…';
      writeReport(crew, page.about(), audience, data.reportHash).then(
        () => {
          byId('kept')!.textContent = 'The report is written.';
        },
        (error: Error) => {
          byId('kept')!.textContent = `The report was not written: ${error.message}`;
        },
      );
    });
  const more = new MoreAnswers(crew, () => page.about(), namesOf(data.shelf, 'machines'));
  text.onChange(() => {
    keep.soon();
    more.caseChanged();
    trials.caseChanged();
  });
  offerFigures(page.stage, () => page.source);
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
