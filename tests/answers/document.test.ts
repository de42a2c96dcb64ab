import { describe, expect, test } from 'vitest';
import { type AnswerDocument, columns, turned } from '../../src/answers/document.ts';
import { documentJson } from '../../src/answers/document-json.ts';
import { printedDocument } from '../../src/cli/print-document.ts';
import { answerBody } from '../../src/viz/html/answer-body.ts';

const DOCUMENT: AnswerDocument = {
  command: 'try',
  found: true,
  title: 'Lot <1>',
  opening: 'Uncalibrated estimate:',
  answer: ['run it at 90 m/s.', 'The motor limits it.'],
  sections: [
    {
      id: 'spec',
      heading: 'The spec',
      sentences: ['Two requirements.'],
      tables: [
        {
          columns: columns('requirement', 'value, µm'),
          rows: [
            ['x95', { text: '80', fails: true }],
            ['x50', { text: '30', fails: false }],
          ],
          notes: ['measured by laser'],
        },
      ],
    },
    { id: 'path', heading: 'Only drawn', figures: [], onPageOnly: true, sentences: ['For the page.'] },
    { id: 'entry', heading: 'Entry', listing: 'wheels:\n  one: 1\n' },
  ],
  notes: ['a range was assumed'],
  cautions: ['Dust can kill.'],
  keys: { status: 'steady', x95_um: 80, chokes_kg_per_h: Number.POSITIVE_INFINITY, warm_s: Number.NaN },
};

describe('one document', () => {
  test('as text: title, answer, sections, notes, cautions; a cell that fails has a mark', () => {
    expect(printedDocument(DOCUMENT, ['/tmp/page.html'])).toBe(`Lot <1>

Uncalibrated estimate: run it at 90 m/s.
The motor limits it.

The spec:
Two requirements.
  requirement  value, µm
  x95          80 !
  x50          30
  measured by laser

Entry:
wheels:
  one: 1

note: a range was assumed

Dust can kill.

/tmp/page.html
`);
  });

  test('as JSON: the keys of the command, and what is said; what is no number is null', () => {
    expect(JSON.parse(documentJson(DOCUMENT))).toEqual({
      status: 'steady',
      x95_um: 80,
      chokes_kg_per_h: null,
      warm_s: null,
      document: {
        title: 'Lot <1>',
        answer: 'Uncalibrated estimate: run it at 90 m/s.',
        more: ['The motor limits it.'],
        sections: [
          {
            heading: 'The spec',
            sentences: ['Two requirements.'],
            tables: [
              {
                heads: ['requirement', 'value, µm'],
                rows: [
                  ['x95', '80'],
                  ['x50', '30'],
                ],
              },
            ],
          },
          { heading: 'Only drawn', sentences: ['For the page.'], tables: [] },
          { heading: 'Entry', sentences: [], tables: [] },
        ],
        notes: ['a range was assumed'],
        cautions: ['Dust can kill.'],
      },
    });
  });

  test('as a page: text of a file is escaped, only the cell that fails is coloured', () => {
    const { text } = answerBody(DOCUMENT);
    expect(text).toContain('<h1><bdi>Lot &lt;1&gt;</bdi></h1>');
    expect(text).toContain('<span class="opening">Uncalibrated estimate:</span> run it at 90\u00a0m/s.');
    expect(text.match(/class="number fails"/g)).toHaveLength(1);
    expect(text).toContain('<td class="number fails">80</td>');
    expect(text).toContain('<pre tabindex="0"><code>wheels:\n  one: 1\n</code></pre>');
    expect(text).toContain('<p class="danger">Dust can kill.</p>');
  });
});

test('a table changed over has its rows as columns', () => {
  const table = {
    columns: columns('wheel', 'speed, rpm', 'power, kW'),
    rows: [
      ['a', '1', '2'],
      ['b', '3', '4'],
    ],
  };
  expect(turned(table)).toEqual({
    columns: [{ name: 'wheel' }, { name: 'a' }, { name: 'b' }],
    rows: [
      ['speed, rpm', '1', '3'],
      ['power, kW', '2', '4'],
    ],
  });
});
