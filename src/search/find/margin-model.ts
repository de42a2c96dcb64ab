/** Margins of many samples, linear in the settings within a box; only those that can fall below zero in it are kept. */
interface MarginModel {
  readonly centre: readonly number[];
  readonly samples: number;
  /** Samples that hold everywhere in the box. */
  readonly held: number;
  /** Margin at the centre, sample by sample. */
  readonly margins: readonly number[];
  /** Slopes of each margin kept, over every number. */
  readonly slopes: readonly (readonly number[])[];
  /** Where the margins of each sample that may fail end. */
  readonly ends: readonly number[];
}

/** How many samples hold, and by how much the others miss, each by 1 at most. */
export interface HeldSamples {
  readonly held: number;
  readonly missed: number;
}

/**
 * Margins and slopes at a place as a linear model of a box around it. A line that holds in every corner of the box is left
 * out, as it tells nothing there.
 *
 * @param margins sample by sample and line by line
 * @param slopes of every margin, one array a number
 */
export function marginModel(
  centre: readonly number[],
  margins: Float64Array,
  slopes: readonly Float64Array[],
  lines: number,
  low: readonly number[],
  high: readonly number[],
): MarginModel {
  const samples = margins.length / lines;
  const kept: { margins: number[]; slopes: number[][]; ends: number[] } = {
    margins: [],
    slopes: [],
    ends: [],
  };
  let held = 0;
  for (let k = 0; k < samples; k++) {
    const before = kept.margins.length;
    for (let i = k * lines; i < (k + 1) * lines; i++) {
      let least = margins[i]!;
      for (let j = 0; j < slopes.length; j++) {
        const slope = slopes[j]![i]!;
        least += Math.min(slope * (low[j]! - centre[j]!), slope * (high[j]! - centre[j]!));
      }
      if (least >= 0) continue;
      kept.margins.push(margins[i]!);
      kept.slopes.push(slopes.map((slope) => slope[i]!));
    }
    if (kept.margins.length === before) held++;
    else kept.ends.push(kept.margins.length);
  }
  return { centre, samples, held, ...kept };
}

/** How the samples stand at a place of the box, by the model. */
export function heldAt(
  { centre, held: always, margins, slopes, ends }: MarginModel,
  at: readonly number[],
): HeldSamples {
  const move = at.map((value, j) => value - centre[j]!);
  let held = always;
  let missed = 0;
  let i = 0;
  for (const end of ends) {
    let smallest = 0;
    for (; i < end; i++) {
      const slope = slopes[i]!;
      let margin = margins[i]!;
      for (let j = 0; j < move.length; j++) margin += slope[j]! * move[j]!;
      if (margin < smallest) smallest = margin;
    }
    if (smallest < 0) missed += Math.min(1, -smallest);
    else held++;
  }
  return { held, missed };
}

/** The same of margins that were asked of the samples themselves. */
export function heldOf(margins: Float64Array, lines: number): HeldSamples {
  let held = 0;
  let missed = 0;
  for (let i = 0; i < margins.length; ) {
    let smallest = 0;
    for (const end = i + lines; i < end; i++) smallest = Math.min(smallest, margins[i]!);
    if (smallest < 0) missed += Math.min(1, -smallest);
    else held++;
  }
  return { held, missed };
}
