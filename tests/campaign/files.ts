import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { toCase } from '../../src/scenario/operating-point.ts';
import type { Trial } from '../../src/trials/trial.ts';

/** Writes a campaign as the files an engineer would bring: a log in panel units and one size export a run. */
export function writeCampaign(folder: string, trials: readonly Trial[]): string {
  const rows = trials.map((trial, i) => {
    const { rotorSpeed, wheelSpeed, feedRate } = toCase(trial.scenario).settings;
    const file = `run-${i + 1}.csv`;
    const points = trial.sizes!.points.map(
      ({ size, undersize }) => `${(size * 1e6).toPrecision(8)};${(100 * undersize).toFixed(6)}`,
    );
    writeFileSync(join(folder, file), `laser diffraction\nsize um;undersize vol %\n${points.join('\n')}\n`);
    const minutes = 4;
    const feed = feedRate * 60 * minutes;
    return [
      trial.name,
      rotorSpeed * 60,
      wheelSpeed,
      trial.scenario.settings.wheel,
      feedRate * 3600,
      trial.power!.value / 1000,
      trial.idlePower! / 1000,
      feed,
      0.98 * feed,
      0.02 * feed,
      minutes,
      file,
    ].join(';');
  });
  const head =
    'trial;rotor speed [rpm];wheel speed [Hz];wheel;feed rate [kg/h];power [kW];idle power [kW];feed [kg];product [kg];filter [kg];minutes;sizes';
  const log = join(folder, 'trials.csv');
  writeFileSync(log, `${head}\n${rows.join('\n')}\n`);
  return log;
}
