import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber as n, toShown } from '../../scenario/units/display.ts';
import { carryOver, likeWheel } from '../../search/scale/map-to-machine.ts';
import { SAME_PRODUCT, type ScaledPoint, scaleTo } from '../../search/scale/scale.ts';
import { specLimits } from '../../search/scale/spec-limits.ts';
import { NOT_COMPUTED, unscaledOf } from '../../search/scale/what-does-not-scale.ts';
import { type AnswerDocument, type AnswerTable, columns, type Section } from '../document.ts';
import { chokedKeys, chokedText, openingOf } from '../verdict-words.ts';
import { type CarriedOver, percentileAt, scaleKeys } from './scale-keys.ts';
import { ladderSection } from './scale-ladders.ts';
import { bandSentences, limitWords, scaleNotes, scaleSentence, unscaledCells } from './scale-words.ts';

/** What of the other machine is stated. */
export interface ScaleWish {
  readonly wheel?: string;
  /** [m³/s] */
  readonly airFlow?: number;
}

/** The same product on another machine: settings, rate, what limits it and what does not scale. */
export function scaleDocument(
  scenario: Scenario,
  other: Scenario,
  { wheel, airFlow }: ScaleWish,
): AnswerDocument {
  const from = solvePoint(toCase(scenario));
  const head = { command: 'scale', title: scenario.title, job: scenario.job, opening: openingOf(scenario) };
  if (from.status === 'choked') {
    const answer = [`the point to be carried over does not run: ${chokedText({ point: from })}.`];
    const keys = chokedKeys(from);
    return { ...head, found: false, answer, sections: [], notes: [], cautions: [SAFETY_CAUTION], keys };
  }
  const { machine, taken } = carryOver(from.case, other, wheel ?? likeWheel(from.case, other));
  const scaled = scaleTo(from, machine, {
    ...(airFlow === undefined ? {} : { airFlow }),
    limits: specLimits(scenario.spec, from),
  });
  const carried: CarriedOver = { scenario, other, from, scaled, taken };
  const point = scaled.most ?? scaled.same;
  return {
    ...head,
    found: scaled.most !== undefined && scaled.most.difference.worst <= SAME_PRODUCT,
    answer: [scaleSentence(carried), ...(point ? bandSentences(point) : [])],
    sections: point ? sectionsOf(carried, point) : [],
    notes: scaleNotes(carried),
    cautions: [SAFETY_CAUTION],
    keys: scaleKeys(carried),
  };
}

function sectionsOf(carried: CarriedOver, point: ScaledPoint): Section[] {
  return [
    { id: 'points', heading: 'Both machines', tables: [pointsTable(carried)] },
    ladderSection(carried, point),
    {
      id: 'not-scaled',
      heading: 'Not the same although the product is',
      tables: [
        {
          columns: columns('what', 'this machine', 'other machine', 'why'),
          rows: unscaledOf(carried.from, point.solved).map(unscaledCells),
        },
      ],
    },
    { id: 'not-computed', heading: 'Not computed', sentences: [...NOT_COMPUTED] },
  ];
}

type Shown = readonly [name: string, solved: Solved, point: ScaledPoint | undefined];

/** A column for this machine, for the other at the same solids per air, and for its highest rate. */
function pointsTable({ scenario, from, scaled: { same, most } }: CarriedOver): AnswerTable {
  const shown: Shown[] = [
    ['this machine', from, undefined],
    ...(same ? [['same solids per air', same.solved, same] as const] : []),
    ...(most ? [['highest rate', most.solved, most] as const] : []),
  ];
  const row = (name: string, of: (solved: Solved, point: ScaledPoint | undefined) => string) => [
    name,
    ...shown.map(([, solved, point]) => of(solved, point)),
  ];
  const at = (s: Solved) => s.state.conditions;
  const size = (name: 'x50' | 'x95' | 'x97') =>
    row(`${name}, µm`, (s, p) => {
      const text = n(toShown(percentileAt(s, name), 'um'), 3);
      return p ? `${text} (${signed(p.difference.judged[name])})` : text;
    });
  return {
    columns: [{ name: '' }, ...shown.map(([name]) => ({ name }))],
    rows: [
      row('feed rate, kg/h', (s) => n(toShown(s.case.settings.feedRate, 'kg/h'), 4)),
      row('rotor speed, rpm', (s) => n(toShown(s.case.settings.rotorSpeed, 'rpm'), 4)),
      row('tip speed, m/s', (s) => n(at(s).tipSpeed, 3)),
      row('wheel speed, rpm', (s) => n(toShown(s.case.settings.wheelSpeed, 'rpm'), 4)),
      row('air flow, m³/h', (s) => n(toShown(s.case.air.flow, 'm^3/h'), 4)),
      size('x50'),
      size('x95'),
      size('x97'),
      row('largest difference of the curves, percentage points', (_, p) =>
        p ? n(100 * p.difference.curve, 2) : '–',
      ),
      row('rotor power, kW', (s) => n(toShown(at(s).rotorPower, 'kW'), 3)),
      row('wheel power, kW', (s) => n(toShown(at(s).wheelPower, 'kW'), 3)),
      row('specific energy, kWh/t', (s) =>
        n(toShown(at(s).rotorPower / s.case.settings.feedRate, 'kWh/t'), 3),
      ),
      row('outlet temperature, °C', (s) => n(toShown(at(s).temperature, 'degC'), 3)),
      row('nearest limit', (_, p) =>
        p ? `${limitWords(scenario, p.limit)} (${n(100 * p.limit.use, 3)} % used)` : '–',
      ),
    ],
  };
}

function signed(share: number): string {
  const tenths = Math.round(1000 * Math.abs(share)) / 10;
  return tenths === 0 ? 'the same' : `${share < 0 ? '−' : '+'}${tenths} %`;
}
