import { unconfirmedWords } from '../../../answers/evidence-sentence.ts';
import { words } from '../../../answers/text.ts';
import { pathInWords } from '../../../answers/words.ts';
import { assumptionsInUse } from '../../../scenario/outcome/assumptions.ts';
import type { Scenario } from '../../../scenario/scenario.ts';
import { formatNumber, labelOf } from '../../../scenario/units/display.ts';
import { tableHtml } from '../../html/figure.ts';
import { type Html, html } from '../../html/template.ts';

/** Every number in use with its evidence, the assumed ones first. */
export function assumptionsSection(scenario: Scenario, sway: Html): Html {
  return html`<section id="assumptions">
<h2>Assumptions</h2>
<p>${unconfirmedWords(scenario)}; a value typed into the file counts as confirmed only where its label says published, measured or fitted. A trial determines breakage, cut and sharpness first.</p>
${sway}
${sourcesHtml(scenario)}
</section>`;
}

/** Tables of every number in use with label and source. */
export function sourcesHtml(scenario: Scenario): Html {
  const used = assumptionsInUse(scenario);
  const rowOf = ({ name, value, unit, label, source }: (typeof used)[number]) => {
    const { symbol = '', meaning = '' } = scenario.provenance[name] ?? {};
    const plain = meaning.split('`').join('');
    return [
      pathInWords(name),
      symbol,
      formatNumber(value, 4),
      labelOf(unit),
      label,
      words(plain, LONGEST),
      words(source, LONGEST),
    ];
  };
  const heads = ['number', 'symbol', 'value', 'unit', 'evidence', 'meaning', 'source'];
  const open = used.filter(({ name, label }) => label !== 'given' || COEFFICIENT.test(name));
  const rest = used.filter((each) => !open.includes(each));
  return html`${tableHtml({ heads, rows: open.map(rowOf) }, 'Assumed first, then coefficients from the file')}
${rest.length > 0 ? html`<details class="given"><summary>${rest.length} numbers of feed, machine and air as given</summary>${tableHtml({ heads, rows: rest.map(rowOf) }, 'As given')}</details>` : undefined}`;
}

/** Longest meaning or source shown whole. */
const LONGEST = 400;
/** What no drawing shows and only a trial can tell. */
const COEFFICIENT = /\.(coefficients|selection|fragments)\./;
