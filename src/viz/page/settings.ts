import type { Change } from '../../answers/change.ts';
import { label } from '../../answers/text.ts';
import { pathInFile } from '../../scenario/path.ts';
import { fromShown } from '../../scenario/units/display.ts';
import type { Control } from '../report/controls.ts';

/** What is set on the page: a value a path, in the unit shown, or a name. */
export type Values = Readonly<Record<string, number | string>>;

/** The one state of the page: what every control stands at. */
export class Settings {
  readonly controls: readonly Control[];
  private values: Record<string, number | string>;
  private readonly listeners: ((changed: readonly string[]) => void)[] = [];

  constructor(controls: readonly Control[]) {
    this.controls = controls;
    this.values = Object.fromEntries(controls.map(({ path, value }) => [path, value]));
  }

  get now(): Values {
    return this.values;
  }

  onChange(listener: (changed: readonly string[]) => void): void {
    this.listeners.push(listener);
  }

  set(asked: Values): void {
    const values = { ...this.valuesOfWheel(asked.wheel), ...asked };
    const changed = Object.keys(values).filter(
      (path) => path in this.values && this.values[path] !== values[path],
    );
    if (changed.length === 0) return;
    for (const path of changed) this.values[path] = values[path]!;
    for (const listener of this.listeners) listener(changed);
  }

  reset(): void {
    this.set(Object.fromEntries(this.controls.map(({ path, value }) => [path, value])));
  }

  /** What stands elsewhere than at first, as text by path. */
  read(): Record<string, string> {
    return Object.fromEntries(this.moved().map((path) => [path, String(this.values[path])]));
  }

  /** Takes up what `read` gave; what is left out, unknown or out of range stands as at first. */
  write(state: Readonly<Record<string, string>>): void {
    const wheel = this.controls.find(({ path }) => path === 'wheel');
    const chosen =
      wheel?.kind === 'choice' && wheel.choices.includes(state.wheel ?? '') ? state.wheel : undefined;
    const values = this.controls.map((control) => {
      const text = state[control.path];
      if (control.kind === 'choice')
        return [control.path, text !== undefined && control.choices.includes(text) ? text : control.value];
      const own = chosen === undefined ? control.value : (control.byWheel?.[chosen] ?? control.value);
      const value = text === undefined || text === '' ? Number.NaN : Number(text);
      return [control.path, value >= control.min && value <= control.max ? value : own];
    });
    this.set(Object.fromEntries(values));
  }

  /** Another wheel brings its own geometry and coefficients. */
  private valuesOfWheel(wheel: number | string | undefined): Values {
    if (wheel === undefined || wheel === this.values.wheel) return {};
    return Object.fromEntries(
      this.controls.flatMap((control) => {
        const own = control.kind === 'number' ? control.byWheel?.[wheel] : undefined;
        return own === undefined ? [] : [[control.path, own] as const];
      }),
    );
  }

  /** Where a control stands when nobody turned it. */
  private untouched(control: Control): number | string {
    const own = control.kind === 'number' ? control.byWheel?.[String(this.values.wheel)] : undefined;
    return own ?? control.value;
  }

  /** Paths that stand elsewhere than at first. */
  moved(): string[] {
    return this.controls
      .filter((each) => this.values[each.path] !== this.untouched(each))
      .map(({ path }) => path);
  }

  /** The settings proper and whatever else was turned: all that tells this point from the file. */
  stated(): Control[] {
    const moved = new Set(this.moved());
    return this.controls.filter(({ path, group }) => group === 'settings' || moved.has(path));
  }

  /** What is stated, as changes in SI. */
  changes(): Change[] {
    return this.stated().map((control) => this.changeOf(control));
  }

  private changeOf(control: Control): Change {
    const value = this.values[control.path]!;
    if (control.kind === 'choice' || typeof value === 'string') return { path: control.path, value };
    return {
      path: control.path,
      value: fromShown(value, control.shownIn),
      ...(control.as ? { as: control.as } : {}),
    };
  }
}

/** `wheel medium leaning, wheel speed 2500 rpm, …` of the settings proper. */
export function settingsWords({ controls, now }: Settings): string {
  return controls
    .filter(({ group }) => group === 'settings')
    .map((control) => {
      const value = now[control.path]!;
      return control.kind === 'choice'
        ? `${control.name} ${label(String(value))}`
        : `${control.name} ${shownNumber(value as number)} ${control.unit}`;
    })
    .join(', ');
}

/** A number as the controls show it. */
export function shownNumber(value: number): string {
  return String(Number(value.toPrecision(5)));
}

/** A file of its own that takes the rest from the scenario's: pasted into the same file its keys would stand twice. */
const FROM = `# save as a file next to the scenario and put the scenario's name after from:
from: my-case.yaml`;

/** The settings as YAML, nested as in a scenario's file: a scenario of its own. */
export function asYaml(settings: Settings): string {
  const tree: Tree = {};
  for (const control of settings.stated()) {
    const keys = pathInFile(control.path, String(settings.now.wheel)).split('.');
    const block = keys.slice(0, -1).reduce(blockIn, tree);
    block[keys.at(-1)!] = valueText(control, settings.now[control.path]!);
  }
  return [FROM, ...Object.entries(tree).map(([key, block]) => `${key}: ${inline(block)}`)].join('\n');
}

interface Tree {
  [key: string]: Tree | string;
}

function blockIn(tree: Tree, key: string): Tree {
  const block = (tree[key] as Tree | undefined) ?? {};
  tree[key] = block;
  return block;
}

function inline(tree: Tree | string): string {
  if (typeof tree === 'string') return tree;
  return `{ ${Object.entries(tree)
    .map(([key, block]) => `${word(key)}: ${inline(block)}`)
    .join(', ')} }`;
}

/** The settings as options of the command line; the wheel comes first, so that `wheel.…` means the one chosen. */
export function asOptions(settings: Settings): string {
  return settings
    .stated()
    .map((control) => {
      const path = control.path.includes('.') ? control.path : `settings.${control.path}`;
      return `--set ${quoted(`${path}=${valueText(control, settings.now[control.path]!)}`)}`;
    })
    .join(' ');
}

function valueText(control: Control, value: number | string): string {
  if (control.kind === 'choice') return word(String(value));
  return control.shownIn === '1' ? String(value) : `${value} ${control.shownIn}`;
}

/** A name as YAML takes it for one: quoted where it could be read as something else. */
function word(name: string): string {
  return /^[A-Za-z][\w-]{2,}$/.test(name) && !/^(?:true|false|null|yes|off|\w+e\d+)$/i.test(name)
    ? name
    : JSON.stringify(name);
}

/** For a POSIX shell. */
function quoted(text: string): string {
  return `'${text.split("'").join("'\\''")}'`;
}
