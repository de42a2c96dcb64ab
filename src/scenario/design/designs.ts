import { InputError } from '../errors.ts';
import type { Design } from './design.ts';
import { grid } from './grid.ts';
import { latinHypercube } from './latin-hypercube.ts';
import { list } from './list.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { sensitivity } from './sensitivity.ts';
import { sobol } from './sobol.ts';

/** Every design a sweep can name. */
export const DESIGNS: readonly Design[] = [grid, sobol, latinHypercube, oneAtATime, list, sensitivity];

/** Adds a design from outside; `outside/register.ts` alone calls it. */
export function addDesign(design: Design): void {
  (DESIGNS as Design[]).push(design);
}

/** Takes out what `addDesign` added. */
export function removeDesign(name: string): void {
  (DESIGNS as Design[]).splice(
    DESIGNS.findIndex((design) => design.name === name),
    1,
  );
}

/** @throws InputError naming the designs there are */
export function designNamed(name: string): Design {
  const found = DESIGNS.find((design) => design.name === name);
  if (found !== undefined) return found;
  const known = DESIGNS.map((design) => design.name).join(', ');
  throw new InputError([{ place: 'sweep.design', message: `must be one of ${known}, is ${name}` }]);
}
