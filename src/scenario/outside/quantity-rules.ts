import { evidenceRules, textRule } from '../../model/conformance/law-header.ts';
import { brokenRules, type Rule, told } from '../../model/conformance/rule.ts';
import type { Solved } from '../outcome/quantity.ts';
import { isShownUnit, siUnitOf } from '../units/display.ts';
import type { OwnQuantity } from './law-module.ts';

/**
 * Where a quantity does not hold to what every one must, a sentence each; empty where it conforms.
 *
 * @param solved a point at which it is read
 */
export function quantityFaults(quantity: OwnQuantity, solved: Solved): string[] {
  const { name, symbol, meaning, of } = quantity;
  return brokenRules([
    {
      must: 'have a name of letters and digits, e.g. finesEnergy',
      broken: () => (/^[a-z][A-Za-z0-9]{0,39}$/.test(String(name)) ? undefined : `its name is ${name}`),
    },
    {
      must: 'not have the name of a percentile',
      broken: () => (/^x\d/.test(String(name)) ? `its name is ${name}` : undefined),
    },
    {
      must: 'have a symbol',
      broken: () => (typeof symbol === 'string' && symbol !== '' ? undefined : `symbol is ${symbol}`),
    },
    textRule('meaning', meaning),
    ...evidenceRules(quantity),
    unitRule('the quantity', quantity),
    {
      must: 'be a number, the same one each time it is read, and change nothing of the point',
      broken: () => {
        const before = fingerprint(solved);
        const [first, second] = [of(solved), of(solved)];
        if (typeof first !== 'number') return `it is ${typeof first}`;
        if (Math.abs(first) === Number.POSITIVE_INFINITY) return `it is ${told(first)}`;
        if (!Object.is(first, second)) return `${told(first)}, then ${told(second)}`;
        return fingerprint(solved) === before ? undefined : 'the point is another after it was read';
      },
    },
  ]);
}

/** A unit that tables can show, of the kind the model computes in. */
export function unitRule(what: string, { unit, shownIn }: { unit: string; shownIn: string }): Rule {
  return {
    must: `show ${what} in a unit that is known, of the same kind as its SI unit`,
    broken: () => {
      if (!isShownUnit(shownIn)) return `${shownIn} is not known`;
      return siUnitOf(shownIn) === unit ? undefined : `${shownIn} is of ${siUnitOf(shownIn)}, not of ${unit}`;
    },
  };
}

/** All numbers of a point in one text. */
function fingerprint(solved: Solved): string {
  return JSON.stringify(solved, (_, value) =>
    ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : value,
  );
}
