import type { SizeLine } from '../../answers/point-view.ts';
import { type CaseState, choiceField, type FormLine, valueField } from './case-fields.ts';
import type { CaseText } from './case-text.ts';
import { element } from './dom.ts';

/** Standard normal deviate of 90 %, and ln 10 for the law of Rosin, Rammler, Sperling and Bennett at 90 %. */
const DEVIATE_90 = 1.2815515655446;
const LN_10 = Math.LN10;

const KINDS = [
  ['percentiles', 'percentiles'],
  ['log-normal', 'log-normal law'],
  ['rrsb', 'RRSB law'],
  ['text', 'as in the text'],
] as const;

/** Fields of the feed: the law chosen, and its numbers; another law starts as the same feed, to four digits. */
export function feedFields(text: CaseText, feed: () => SizeLine | undefined): FormLine {
  const box = element('div', {});
  const lines = new Map<string, FormLine>();
  const kind = choiceField({
    name: 'given as',
    id: 'feed-kind',
    choices: () => KINDS.filter(([value]) => value !== 'text' || kindOf(text) === 'text'),
    value: () => kindOf(text),
    choose: (value) => {
      const block = feedBlock(value, feed());
      if (block) text.putWhole(['feed'], block);
    },
  });
  const node = element('div', {}, kind.node, box);
  let shown = '';
  return {
    node,
    update(state: CaseState) {
      kind.update(state);
      const keys = keysOf(text);
      const key = JSON.stringify(keys);
      if (key !== shown) {
        shown = key;
        lines.clear();
        for (const { path, name, example } of keys)
          lines.set(path.join('.'), valueField(text, { path, name, example }));
        box.replaceChildren(...[...lines.values()].map((line) => line.node));
      }
      for (const line of lines.values()) line.update(state);
    },
  };
}

function kindOf(text: CaseText): string {
  const keys = text.keysAt(['feed']);
  if (keys.includes('percentiles')) return 'percentiles';
  const law = text.valueAt(['feed', 'law']);
  return KINDS.some(([value]) => value === law) ? law! : 'text';
}

function keysOf(text: CaseText) {
  if (kindOf(text) === 'percentiles')
    return text
      .keysAt(['feed', 'percentiles'])
      .map((key) => ({ path: ['feed', 'percentiles', key], name: `${key} below`, example: '500 um' }));
  return text
    .keysAt(['feed'])
    .filter((key) => key !== 'law' && text.valueAt(['feed', key]) !== undefined)
    .map((key) => ({ path: ['feed', key], name: key, example: key.startsWith('x') ? '500 um' : '0.35' }));
}

/** A feed of another law with the same percentiles. */
function feedBlock(kind: string, feed: SizeLine | undefined): Record<string, unknown> | undefined {
  const size = (share: number, otherwise: number) => (feed ? sizeAt(feed, share) : otherwise);
  const micro = (value: number) => `${Number(value.toPrecision(4))} um`;
  const pure = (value: number) => String(Number(value.toPrecision(4)));
  const [x10, x50, x63, x90] = [size(0.1, 180), size(0.5, 500), size(1 - Math.exp(-1), 590), size(0.9, 900)];
  switch (kind) {
    case 'percentiles':
      return { percentiles: { '10 %': micro(x10), '50 %': micro(x50), '90 %': micro(x90) } };
    case 'log-normal':
      return { law: kind, x50: micro(x50), spread: pure(Math.log(x90 / x50) / DEVIATE_90) };
    case 'rrsb':
      return { law: kind, x63: micro(x63), exponent: pure(Math.log(LN_10) / Math.log(x90 / x63)) };
    default:
      return undefined;
  }
}

/** Size below which a share lies, between edges in the logarithm of size. */
function sizeAt({ sizes, undersize }: SizeLine, share: number): number {
  let i = 1;
  while (i < undersize.length - 1 && undersize[i]! < share) i++;
  const [below, above] = [undersize[i - 1]!, undersize[i]!];
  const part = above > below ? (share - below) / (above - below) : 0;
  return sizes[i - 1]! * (sizes[i]! / sizes[i - 1]!) ** part;
}
