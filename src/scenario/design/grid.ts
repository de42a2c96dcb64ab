import { type Fault, InputError } from '../errors.ts';
import type { Factor } from '../scenario.ts';
import { gridCoordinates, isNamed } from './coordinate.ts';
import type { CompiledDesign, Design, DesignSetup } from './design.ts';

/** The part of a grid that shares one combination of names. */
interface Block {
  readonly start: number;
  readonly names: Float64Array;
  /** Coordinates of each factor; one NaN where it changes nothing here. */
  readonly axes: readonly Float64Array[];
}

/** Every combination of the factors' steps; names vary slowest, then the factors in their order, the last fastest. */
export const grid: Design = {
  name: 'grid',
  summary: 'every combination of the steps',
  counts: 'by factors',
  extends: false,
  compile: compileGrid,
};

function compileGrid(setup: DesignSetup): CompiledDesign {
  refuseFaults(setup);
  const blocks: Block[] = [];
  let size = 0;
  for (const names of combinations(setup.factors)) {
    const block = blockAt(setup, names, size);
    if (block === undefined) continue;
    blocks.push(block);
    size += block.axes.reduce((product, axis) => product * axis.length, 1);
  }
  return {
    size,
    fill: (index, coordinates) => {
      let b = blocks.length - 1;
      while (blocks[b]!.start > index) b--;
      const { start, axes } = blocks[b]!;
      let rest = index - start;
      for (let j = axes.length - 1; j >= 0; j--) {
        const axis = axes[j]!;
        coordinates[j] = axis[rest % axis.length]!;
        rest = Math.floor(rest / axis.length);
      }
    },
  };
}

function refuseFaults({ factors, points }: DesignSetup): void {
  const faults: Fault[] = [];
  if (points !== undefined) {
    faults.push({
      place: 'sweep.points',
      message: 'a grid has its points from the steps; remove --points',
    });
  }
  for (const factor of factors) {
    if (factor.kind === 'number' && factor.steps === undefined) {
      faults.push({ place: `sweep.factors.${factor.path}`, message: 'a grid needs steps, e.g. steps: 5' });
    }
  }
  if (faults.length > 0) throw new InputError(faults);
}

/** All combinations of the named factors; the other coordinates are NaN. */
function combinations(factors: readonly Factor[]): Float64Array[] {
  let all = [new Float64Array(factors.length).fill(Number.NaN)];
  factors.forEach((factor, j) => {
    if (!isNamed(factor)) return;
    all = all.flatMap((names) => [...gridCoordinates(factor, 1)].map((level) => names.with(j, level)));
  });
  return all;
}

/** Nothing where a name that changes nothing is not at its first level: that combination is there already. */
function blockAt({ factors, activity }: DesignSetup, names: Float64Array, start: number): Block | undefined {
  const active = activity(names);
  const axes: Float64Array[] = [];
  for (let j = 0; j < factors.length; j++) {
    const factor = factors[j]!;
    const named = isNamed(factor);
    if (!active[j]) {
      if (named && names[j] !== 0) return undefined;
      axes.push(Float64Array.of(Number.NaN));
    } else if (named) axes.push(Float64Array.of(names[j]!));
    else axes.push(gridCoordinates(factor, factor.kind === 'number' ? factor.steps! : 0));
  }
  return { start, names, axes };
}
