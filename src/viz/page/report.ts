import type { Change } from '../../answers/change.ts';
import { tableGrid } from '../../answers/sweep-table.ts';
import type { Outcome } from '../../scenario/outcome/outcome.ts';
import type { ReportData } from '../report/report-data.ts';
import { AddressState, bindUndo, type StatePart } from './address.ts';
import { ModelClient } from './client.ts';
import { byId } from './dom.ts';
import { buildPanel } from './panel.ts';
import { PointPanel } from './point-panel.ts';
import { asOptions, asYaml, Settings, shownNumber } from './settings.ts';
import { Stage } from './stage.ts';
import { startStill } from './static-figures.ts';
import { offerFigures, offerTables } from './take-figures.ts';
import { readData, unpackSweep } from './unpack.ts';
import { WindowView } from './window-view.ts';

/** What a page offers to whoever scripts it: the same numbers as the command line. */
interface Scripting {
  run(changes: readonly Change[]): Promise<Outcome>;
  readonly settings: Settings;
}

declare global {
  interface Window {
    grindloop?: Scripting;
  }
}

async function start(): Promise<void> {
  const data = readData(byId('data')!.textContent!);
  const stage = new Stage();
  const model = byId('model')?.textContent;
  const client = data.live && model ? new ModelClient(model, data.live.scenario) : undefined;
  const settings = new Settings(data.controls);
  const panel = byId('controls');
  if (panel) buildPanel(panel, settings);
  brief(settings);
  startStill(stage, data);
  if (client) {
    new PointPanel(stage, settings, client, data);
    window.grindloop = {
      settings,
      run: async (changes) => (await client.ask({ kind: 'point', changes }, 'script')).outcome,
    };
  }
  const parts: StatePart[] = [settings];
  if (data.sweep?.axes) {
    const table = await unpackSweep(data.sweep);
    const view = new WindowView({ stage, settings, data, table, grid: tableGrid(table), client });
    parts.push(view);
  }
  offerFigures(stage, () => data.source ?? document.title);
  offerTables();
  bindUndo(new AddressState(parts), byId('undo'), byId('redo'));
  buttons(settings, data);
  document.documentElement.dataset.ready = 'true';
}

/** On a narrow page the settings lie folded at its foot, with the main ones in a line. */
function brief(settings: Settings): void {
  const line = byId('brief');
  const details = line?.closest('details');
  if (!line || !details) return;
  if (matchMedia('(max-width: 900px)').matches) details.open = false;
  const write = () => {
    const shown = settings.controls.filter(({ path }) =>
      ['wheelSpeed', 'rotorSpeed', 'feedRate'].includes(path),
    );
    const values = shown.map(
      (control) =>
        `${shownNumber(Number(settings.now[control.path]))} ${control.kind === 'number' ? control.unit : ''}`,
    );
    line.textContent = values.join(', ');
  };
  settings.onChange(write);
  write();
}

function buttons(settings: Settings, data: ReportData): void {
  byId('reset')?.addEventListener('click', () => settings.reset());
  byId('to-file')?.addEventListener('click', () => settings.set(data.file));
  const copied = byId('copied');
  const copy = (id: string, text: () => string) =>
    byId(id)?.addEventListener('click', async () => {
      const area = byId<HTMLTextAreaElement>('copy-text');
      if (area) {
        area.value = text();
        area.hidden = false;
        area.select();
      }
      const done = await navigator.clipboard?.writeText(text()).then(
        () => true,
        () => false,
      );
      if (copied) copied.textContent = done ? 'Copied.' : 'Selected: copy with Ctrl-C.';
    });
  copy('copy-yaml', () => asYaml(settings));
  copy('copy-options', () => asOptions(settings));
}

void start();
