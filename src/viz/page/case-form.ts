import { namesOf, type Shelf } from '../../answers/desk/desk-files.ts';
import type { SizeLine } from '../../answers/point-view.ts';
import { type CaseState, choiceField, type FormLine, idOf, valueField } from './case-fields.ts';
import type { CaseText, KeyPath } from './case-text.ts';
import { element } from './dom.ts';
import { feedFields } from './feed-fields.ts';
import { requirementFields } from './requirement-fields.ts';

const GOALS = [
  ['', 'none'],
  ['maximise feedRate', 'as much feed as possible'],
  ['minimise specificEnergy', 'as little energy per tonne as possible'],
  ['maximise x50', 'as few fines as possible (x50 large)'],
] as const;

/** What the form shows that is not in the text. */
interface BesideTheCase {
  readonly feed: () => SizeLine | undefined;
  /** Library files opened. */
  readonly entries: (kind: 'material' | 'machine') => readonly string[];
}

/** The case as a form; every change goes into the text, and every change of the text shows here. */
export class CaseForm {
  private readonly lines: FormLine[] = [];
  private readonly text: CaseText;
  private readonly beside: BesideTheCase;

  constructor(root: HTMLElement, text: CaseText, shelf: Shelf, beside: BesideTheCase) {
    this.text = text;
    this.beside = beside;
    const field = (path: KeyPath, name: string, example: string, slides?: string) =>
      this.line(valueField(text, { path, name, example, ...(slides ? { slides } : {}) }));
    root.append(
      group('Title', field(['title'], 'title', 'Lot 4711')),
      group(
        'Material',
        this.line(this.shelfChoice('material', namesOf(shelf, 'materials'))),
        field(['material', 'density'], 'particle density', '1450 kg/m^3'),
        this.more(['material'], ['from', 'density', 'description']),
      ),
      group('Feed', this.line(feedFields(text, beside.feed))),
      group(
        'Machine and air',
        this.line(this.shelfChoice('machine', namesOf(shelf, 'machines'))),
        field(['air', 'flow'], 'air flow', '1500 m^3/h', 'air.flow'),
        field(['air', 'temperature'], 'air temperature', '20 degC'),
        this.more(['machine'], ['from', 'description']),
      ),
      group(
        'Settings',
        field(['settings', 'rotorSpeed'], 'rotor speed', '90 m/s or 5730 rpm', 'rotorSpeed'),
        this.line(this.wheelChoice()),
        field(['settings', 'wheelSpeed'], 'wheel speed', '25 Hz or 1500 rpm', 'wheelSpeed'),
        field(['settings', 'feedRate'], 'feed rate', '150 kg/h', 'feedRate'),
      ),
      group('What is required', this.line(requirementFields(text)), this.line(this.goalChoice())),
    );
    root.addEventListener('submit', (event) => event.preventDefault());
  }

  update(state: CaseState): void {
    for (const line of this.lines) line.update(state);
  }

  private line(line: FormLine): HTMLElement {
    this.lines.push(line);
    return line.node;
  }

  /** An entry of the catalogue, or the block as the text has it. */
  private shelfChoice(key: 'material' | 'machine', shelf: readonly string[]): FormLine {
    const { text, beside } = this;
    const names = () => [...shelf, ...beside.entries(key)];
    const chosen = () => text.valueAt([key]) ?? text.valueAt([key, 'from']) ?? '';
    return choiceField({
      name: 'from the catalogue',
      id: `choose-${key}`,
      choices: () => [
        ...(names().includes(chosen())
          ? []
          : [['', `as in the text${chosen() && ` (${chosen()})`}`] as const]),
        ...names().map((name) => [name, name] as const),
      ],
      value: () => (names().includes(chosen()) ? chosen() : ''),
      choose: (name) => {
        if (name === '') return;
        if (text.valueAt([key]) !== undefined) text.put([key], name);
        else if (text.valueAt([key, 'from']) !== undefined) text.put([key, 'from'], name);
        else text.putWhole([key], { from: name });
      },
    });
  }

  private wheelChoice(): FormLine {
    const { text } = this;
    const chosen = () => text.valueAt(['settings', 'wheel']) ?? '';
    return choiceField({
      name: 'wheel',
      id: idOf(['settings', 'wheel']),
      choices: ({ facts }) => {
        const wheels = facts?.wheels ?? [chosen()];
        return (wheels.includes(chosen()) ? wheels : [chosen(), ...wheels]).map((name) => [
          name,
          name === '' ? 'not chosen' : name.split('-').join(' '),
        ]);
      },
      value: chosen,
      choose: (name) => text.put(['settings', 'wheel'], name),
    });
  }

  private goalChoice(): FormLine {
    const { text } = this;
    const goal = () => text.valueAt(['goal']) ?? '';
    return choiceField({
      name: 'goal',
      id: 'choose-goal',
      choices: () =>
        GOALS.some(([value]) => value === goal()) ? GOALS : [...GOALS, [goal(), goal()] as const],
      value: goal,
      choose: (value) => (value === '' ? text.remove(['goal']) : text.put(['goal'], value)),
    });
  }

  /** Every other number a block of the text gives, one field each. */
  private more(root: KeyPath, known: readonly string[]): HTMLElement {
    const { text } = this;
    const box = element('div', {});
    const details = element(
      'details',
      {},
      element('summary', {}, `Other values of the ${root[0]} in the text`),
      box,
    );
    const lines: FormLine[] = [];
    let shown = '';
    return this.line({
      node: details,
      update: (state: CaseState) => {
        const paths = leavesOf(text, root).filter((path) => !known.includes(String(path[1])));
        const key = JSON.stringify(paths);
        details.hidden = paths.length === 0;
        if (key !== shown) {
          shown = key;
          lines.splice(0, lines.length, ...paths.map((path) => this.valueLine(path)));
          box.replaceChildren(...lines.map(({ node }) => node));
        }
        for (const line of lines) line.update(state);
      },
    });
  }

  private valueLine(path: KeyPath): FormLine {
    return valueField(this.text, { path, name: path.slice(1).join(' '), example: '' });
  }
}

/** Paths of every plain value under a block. */
function leavesOf(text: CaseText, root: KeyPath): KeyPath[] {
  return text.keysAt(root).flatMap((key) => {
    const path = [...root, key];
    return text.valueAt(path) === undefined ? leavesOf(text, path) : [path];
  });
}

function group(name: string, ...nodes: readonly HTMLElement[]): HTMLElement {
  return element('fieldset', {}, element('legend', {}, name), ...nodes);
}
