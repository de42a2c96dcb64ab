import type { Change } from '../../answers/change.ts';
import type { LadderInput } from '../../answers/feed-ladder.ts';
import { type MeasuredTrial, measuredNear } from '../../answers/measured-trials.ts';
import type { PointView } from '../../answers/point-view.ts';
import type { TurnsView } from '../../answers/setting-corrections.ts';
import { sentence, together } from '../../answers/text.ts';
import { balanceFigure } from '../figures/balance.ts';
import { chokeFigure } from '../figures/choke.ts';
import { gradeFigure } from '../figures/grade.ts';
import { ladderFigure } from '../figures/ladder.ts';
import { sizeCurveFigure } from '../figures/size-curve.ts';
import { spansFigure } from '../figures/tornado.ts';
import type { ReportData } from '../report/report-data.ts';
import { tickText } from '../ticks.ts';
import type { ModelClient } from './client.ts';
import { byId, whenQuiet } from './dom.ts';
import { type Settings, settingsWords } from './settings.ts';
import type { Stage } from './stage.ts';

/** Figures that a point without product has not. */
export const OF_PRODUCT = ['size-curve', 'grade-efficiency', 'balance'] as const;

/** Keeps the figures of the pinned point, the ladder and the turns in step with the settings, by the model. */
export class PointPanel {
  private readonly stage: Stage;
  private readonly settings: Settings;
  private readonly client: ModelClient;
  private readonly trials: readonly MeasuredTrial[];
  private readonly beside: LadderInput['other'];
  private readonly slowly = whenQuiet(180, () => void this.updateRest());
  private readonly bandsSoon = whenQuiet(600, () => void this.updateBands());
  private climb: { readonly changes: readonly Change[]; readonly ladder: LadderInput } | undefined;

  constructor(stage: Stage, settings: Settings, client: ModelClient, data: ReportData) {
    this.stage = stage;
    this.settings = settings;
    this.client = client;
    this.trials = data.trials ?? [];
    const ladder = data.stills.find(({ id }) => id === 'ladder')?.input as LadderInput | undefined;
    this.beside = ladder?.other;
    settings.onChange(() => this.update());
    this.update();
  }

  private update(): void {
    this.climb = undefined;
    this.client.giveUp('ladder', 'ladderBands', 'sway', 'turns');
    this.stage.awaitPoint();
    void this.updatePoint();
    this.slowly();
  }

  private async updatePoint(): Promise<void> {
    const view = await this.client.ask({ kind: 'point', changes: this.settings.changes() });
    this.showPoint(view);
  }

  private showPoint({ outcome, verdict, choke, curves }: PointView): void {
    const { stage } = this;
    const measured = measuredNear(this.trials, this.settings.now);
    document.body.classList.toggle('chokes', !curves);
    const state = byId('pinned-state');
    if (state) {
      const said = verdict === '' ? '' : `: ${verdict}`;
      state.textContent = together(`${sentence(settingsWords(this.settings))}${said}.`);
    }
    if (curves) {
      const { product, behind, gates, grade, balance } = curves;
      stage.show('size-curve', (frame) => sizeCurveFigure.draw({ product, behind, gates, measured }, frame));
      stage.show('grade-efficiency', (frame) => gradeFigure.draw({ lines: grade }, frame));
      stage.show('balance', (frame) => balanceFigure.draw(balance, frame));
    } else for (const id of OF_PRODUCT) stage.clear(id);
    stage.show('choke', (frame) => chokeFigure.draw(choke, frame));
    for (const cell of document.querySelectorAll<HTMLElement>('[data-value]')) {
      const [group, key] = cell.dataset.value!.split('.') as [string, string];
      const value = (outcome as unknown as Record<string, Record<string, number> | undefined>)[group]?.[key];
      const shown = (value ?? Number.NaN) * Number(cell.dataset.factor ?? 1);
      cell.textContent = Number.isFinite(shown) ? tickText(Number(shown.toPrecision(4))) : '–';
    }
    outcome.spec.forEach((line, k) => {
      const row = document.querySelector<HTMLElement>(`[data-line="${k}"]`);
      if (!row) return;
      const cells = row.querySelectorAll('td');
      const short = (value: number) =>
        Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : '–';
      cells[0]!.textContent = short(line.value);
      cells[1]!.textContent = short(line.margin);
      cells[2]!.textContent = line.met ? 'yes' : 'no';
      row.classList.toggle('missed', !line.met);
    });
  }

  /** Bands take a while: they are found when the settings have rested longer. */
  private async updateBands(): Promise<void> {
    const asked = this.climb;
    if (!asked) return;
    const ladder = await this.client.ask({ kind: 'ladderBands', ...asked });
    if (asked === this.climb) this.stage.show('ladder', (frame) => ladderFigure.draw(ladder, frame));
  }

  private async updateRest(): Promise<void> {
    const changes = this.settings.changes();
    const { stage, client } = this;
    const climb = await client.ask({ kind: 'ladder', changes });
    const ladder = { ...climb, ...(this.beside ? { other: this.beside } : {}) };
    stage.show('ladder', (frame) => ladderFigure.draw(ladder, frame));
    this.climb = { changes, ladder };
    this.bandsSoon();
    const sway = await client.ask({ kind: 'sway', changes });
    stage.show('sway', (frame) => spansFigure.draw(sway, frame));
    this.showTurns(await client.ask({ kind: 'turns', changes }));
  }

  private showTurns({ wishes }: TurnsView): void {
    for (const { key, words, turns, missed } of wishes) {
      const wish = document.querySelector<HTMLElement>(`[data-wish="${key}"]`);
      if (wish && missed !== undefined) {
        wish.hidden = !missed;
        wish.querySelector('summary')!.textContent = together(words);
      }
      const body = wish?.querySelector('tbody');
      turns.forEach(({ turn, costs }, i) => {
        const cells = body?.children[i]?.children;
        if (!cells) return;
        cells[1]!.textContent = together(turn);
        for (let c = 2; c < cells.length; c++) cells[c]!.textContent = costs[c - 2] ?? '';
      });
    }
  }
}
