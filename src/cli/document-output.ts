import type { Argv } from 'yargs';
import type { AnswerDocument } from '../answers/document.ts';
import { documentJson } from '../answers/document-json.ts';
import { programVersion } from '../sweep/store/version.ts';
import { answerPage } from '../viz/write/answer-page.ts';
import { EXIT } from './command.ts';
import { printedDocument } from './print-document.ts';
import { writeWhole } from './write-file.ts';

/** The options by which an answer is written as JSON or as a page. */
export function documentOptions(argv: Argv): Argv {
  return argv
    .option('output', {
      alias: 'o',
      type: 'string',
      describe: 'write the answer as a page to this file, e.g. answer.html',
    })
    .option('json', { type: 'boolean', default: false, describe: 'print everything as JSON' });
}

/** How an answer is to be given. */
interface Giving {
  readonly json: boolean;
  /** Page to write. */
  readonly page?: string;
  /** The scenario as read, kept in the page. */
  readonly scenarioText?: string;
}

/** What a parsed command line says. */
export function givingOf({ json, output }: Readonly<Record<string, unknown>>, scenarioText?: string): Giving {
  return {
    json: json === true,
    ...(typeof output === 'string' ? { page: output } : {}),
    ...(scenarioText === undefined ? {} : { scenarioText }),
  };
}

/**
 * Gives an answer: prints it, as text or as JSON, and writes its page where one is wanted.
 *
 * @returns the exit code: done, or no answer
 * @throws InputError where the page cannot be written; the answer is printed before
 */
export function giveDocument(document: AnswerDocument, { json, page, scenarioText }: Giving): number {
  // printed first: what was found is not lost where the page cannot be written
  process.stdout.write(
    json ? documentJson(document) : printedDocument(document, page === undefined ? [] : [page]),
  );
  if (page !== undefined) {
    const made = { version: programVersion(), date: new Date().toISOString().slice(0, 10) };
    writeWhole(
      page,
      answerPage(document, { ...made, ...(scenarioText === undefined ? {} : { scenarioText }) }),
    );
  }
  return document.found ? EXIT.done : EXIT.noAnswer;
}
