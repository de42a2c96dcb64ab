import { toCase } from '../../scenario/operating-point.ts';
import { formatNumber, formatQuantity, toShown } from '../../scenario/units/display.ts';
import type { Budget } from '../../search/next/budget.ts';
import { type AnswerTable, columns, type Section } from '../document.ts';
import { MOST_ORDERED, type PlacedRun, type RunOrder } from './run-order.ts';

const kilograms = (mass: number) => formatQuantity(mass, 'kg', 3);

/** The order to run the grades in, why, and what it takes of powder and hours. */
export function orderSentences(order: RunOrder, budget: Budget): string[] {
  const { runs, wheelChanges, thrownAway, powder, time } = order;
  const changes =
    wheelChanges === 0 ? 'no wheel change' : `${wheelChanges} wheel change${wheelChanges > 1 ? 's' : ''}`;
  const names = runs.map(({ name }) => name).join(', then ');
  const lost = Number.isFinite(thrownAway)
    ? `${thrownAway > 0 ? `${kilograms(thrownAway)} are` : 'nothing has to be'} thrown away at the changes${worstWords(order)}`
    : 'how much to throw away cannot be said, as a grade does not come into its specification at its settings';
  return [
    `Run ${names}: ${changes}, the fewest these settings allow; ${lost}.`,
    'After a change the product still holds powder of the grade before, left in mill and ducts: throw away what the table says. A wheel change is taken to empty neither.',
    `The visit takes ${formatQuantity(time, 'h', 2)}${hoursWords(time, budget)}, the empty run first, and ${kilograms(powder)} of powder${powderWords(powder, budget)}.`,
    ...overtimeSentence(time, budget),
  ];
}

function worstWords({ thrownAway, worst }: RunOrder): string {
  return worst > thrownAway * 1.005
    ? `; the worst order with as few wheel changes throws away ${kilograms(worst)}`
    : '';
}

function hoursWords(time: number, budget: Budget): string {
  return Number.isFinite(budget.time) && time <= budget.time
    ? ` of ${formatQuantity(budget.time, 'h', 3)}`
    : '';
}

/** More hours than there are. */
function overtimeSentence(time: number, budget: Budget): string[] {
  if (time <= budget.time) return [];
  const available = formatQuantity(budget.time, 'h', 3);
  return [`That is more than the ${available} available: leave a grade out or shorten the runs.`];
}

function powderWords(powder: number, budget: Budget): string {
  if (!Number.isFinite(budget.powder)) return '';
  const available = kilograms(budget.powder);
  return powder > budget.powder
    ? `, more than the ${available} available above the reserve: shorten the runs, leave a grade out or bring more`
    : ` of ${available} available above the reserve`;
}

/** The runs in their order: settings, what to throw away, and what each takes. */
export function orderTable({ runs }: RunOrder): AnswerTable {
  return {
    columns: columns(
      'run',
      'grade',
      'wheel',
      'wheel speed, rpm',
      'rotor speed, rpm',
      'feed rate, kg/h',
      'throw away, kg',
      'for, min',
      'fed in all, kg',
      'feeding, min',
    ),
    rows: runs.map((run, k) => {
      const { settings } = toCase(run.scenario);
      const rpm = (speed: number) => formatNumber(toShown(speed, 'rpm'), 4);
      return [
        `${k + 1}`,
        run.name,
        run.scenario.settings.wheel,
        rpm(settings.wheelSpeed),
        rpm(settings.rotorSpeed),
        formatNumber(toShown(settings.feedRate, 'kg/h'), 3),
        ...thrown(run, k),
        formatNumber(run.cost.feed, 3),
        formatNumber(run.cost.duration / 60, 3),
      ];
    }),
  };
}

function thrown({ change }: PlacedRun, place: number): string[] {
  if (place === 0) return ['–', '–'];
  return change
    ? [formatNumber(change.thrownAway, 3), formatNumber(change.time / 60, 3)]
    : ['not known', 'not known'];
}

/** The order as a part of an answer. */
export function orderSection(order: RunOrder | undefined, budget: Budget): Section[] {
  const heading = 'The order to run them';
  if (!order)
    return [
      { id: 'order', heading, sentences: [`Orders of more than ${MOST_ORDERED} grades are not computed.`] },
    ];
  return [{ id: 'order', heading, sentences: orderSentences(order, budget), tables: [orderTable(order)] }];
}

/** The order under the keys of `--json`. */
export function orderKeys({ runs, wheelChanges, thrownAway, powder, time }: RunOrder) {
  return {
    runs: runs.map(({ name, change }, k) => ({
      grade: name,
      thrownAway_kg: k === 0 ? 0 : (change?.thrownAway ?? null),
    })),
    wheelChanges,
    thrownAway_kg: thrownAway,
    powder_kg: powder,
    time_h: time / 3600,
  };
}
