import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import type { Audience } from '../../answers/evidence-sentence.ts';
import { htmlDocument } from '../html/document-text.ts';
import { trusted } from '../html/template.ts';
import { reportDocument } from '../report/report-document.ts';
import type { Crew } from './crew.ts';
import { pageStyle } from './document-view.ts';
import { byId } from './dom.ts';
import { download, fileName } from './download.ts';

/**
 * The report of the case as the command writes it, as one HTML file.
 *
 * @param hash by which the report's policy admits its script
 */
export async function writeReport(
  crew: Crew,
  about: CaseFiles,
  audience: Audience,
  hash: string,
): Promise<void> {
  const date = new Date().toISOString().slice(0, 10);
  const reply = await crew.ask('long', about, { kind: 'report', audience, date });
  const { title, body } = reply;
  const never = () => {
    throw new Error('a report of one point has no surface to turn');
  };
  const parts = { ...reply, body: trusted(body), offer: { figures: [], source: '' } };
  const document = reportDocument(parts, {
    style: pageStyle(),
    script: byId('report-script')!.textContent!,
    worker: () => byId('report-model')!.textContent!,
    plotting: never,
  });
  const text = htmlDocument(document, { hash: () => hash, deflate: never });
  const name = audience === 'customer' ? `${fileName(title)}-for-customer` : fileName(title);
  download(`${name}.html`, text, 'text/html');
}
