import { availableParallelism } from 'node:os';
import { isNamed } from '../scenario/design/coordinate.ts';
import type { Factor } from '../scenario/scenario.ts';
import { formatNumber, labelOf, toShown } from '../scenario/units/display.ts';
import { compileStudy } from '../sweep/study/compile.ts';
import { duration, spaced } from '../sweep/study/progress.ts';
import { type Shard, shardRange } from '../sweep/study/shard.ts';
import type { Study } from '../sweep/study/study.ts';
import { estimate } from '../sweep/workers/time-estimate.ts';

/** What a sweep would do: its points, what they are made of, how large and how long. Nothing is written. */
export function dryRun(study: Study, threads: number, shard: Shard | undefined): string {
  const compiled = compileStudy(study);
  const { plan } = study;
  const points = shard === undefined ? compiled.size : shardRange(shard, compiled.size).count;
  const { time, size } = estimate(
    compiled,
    points,
    threads,
    availableParallelism(),
    () => performance.now() / 1000,
  );
  const full = plan.factors.reduce((product, factor) => product * levelsOf(factor), 1);
  const lines = [
    `design ${plan.design}${plan.seed === undefined || plan.design === 'grid' ? '' : `, seed ${plan.seed}`}`,
    ...plan.factors.map((factor) => `  ${factor.path}: ${describeFactor(factor)}`),
    `points ${spaced(compiled.size)}`,
  ];
  if (plan.design === 'grid' && compiled.size < full) {
    lines.push(
      `  ${spaced(full - compiled.size)} of ${spaced(full)} combinations left out: a factor changes nothing there`,
    );
  }
  if (shard !== undefined) lines.push(`shard ${shard.part}/${shard.of}: ${spaced(points)} points`);
  lines.push(
    `columns ${compiled.columns.length}${compiled.curveSizes.length > 0 ? `, and curves of ${compiled.curveSizes.length} sizes` : ''}`,
    `size about ${formatNumber(size / 1e6, 2)} MB`,
    `time about ${duration(time)} with ${threads} ${threads === 1 ? 'thread' : 'threads'}`,
  );
  return `${lines.join('\n')}\n`;
}

function levelsOf(factor: Factor): number {
  return factor.kind === 'levels' ? factor.levels.length : (factor.steps ?? 1);
}

function describeFactor(factor: Factor): string {
  const unit = labelOf(factor.shownIn);
  const text = (value: number): string => formatNumber(toShown(value, factor.shownIn), 6);
  if (factor.kind === 'number') {
    const how = [factor.scale === 'log' ? 'log' : '', factor.integer ? 'whole numbers' : ''].filter(Boolean);
    const steps = factor.steps === undefined ? '' : `, ${factor.steps} steps`;
    const notes = how.length > 0 ? `, ${how.join(', ')}` : '';
    return `${text(factor.from)} to ${text(factor.to)} ${unit}`.trim() + steps + notes;
  }
  const shown = factor.levels
    .slice(0, 6)
    .map((level) => (isNamed(factor) ? String(level) : text(Number(level))));
  const more = factor.levels.length > shown.length ? `, … ${factor.levels.length} in all` : '';
  return `${shown.join(', ')}${more} ${isNamed(factor) ? '' : unit}`.trim();
}
