import { assumptionsInUse } from '../../../scenario/outcome/assumptions.ts';
import type { Scenario } from '../../../scenario/scenario.ts';
import { formatNumber, labelOf } from '../../../scenario/units/display.ts';
import { tableHtml } from '../../html/figure.ts';
import { type Html, html } from '../../html/template.ts';
import { pathInWords } from '../../words.ts';

/** Every number in use with its evidence, the assumed ones first. */
export function assumptionsSection(scenario: Scenario, sway: Html): Html {
  const used = assumptionsInUse(scenario);
  const rows = used.map(({ name, value, unit, label, source }) => {
    const { symbol = '', meaning = '' } = scenario.provenance[name] ?? {};
    return [pathInWords(name), symbol, formatNumber(value, 4), labelOf(unit), label, meaning, source];
  });
  const assumed = used.filter(({ label }) => label === 'assumed').length;
  return html`<section id="assumptions">
<h2>Assumptions</h2>
<p>${assumed} of ${used.length} numbers in use are assumed, and those typed into the file are only as good as who typed them. Breakage, cut and sharpness are what a trial would settle first.</p>
${sway}
${tableHtml({ heads: ['number', 'symbol', 'value', 'unit', 'evidence', 'meaning', 'source'], rows }, 'Every number in use, the assumed ones first')}
</section>`;
}
