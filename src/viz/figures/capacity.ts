import type { RidgeInput } from '../../answers/capacity-ridge.ts';
import type { Drawing, Figure, Frame } from '../drawing.ts';
import { ridgeFigure } from './ridge.ts';

/** How much each wheel can do at each fineness, and what holds it back. */
export const capacityFigure: Figure<RidgeInput> = {
  name: 'capacity',
  title: 'Capacity against fineness',
  draw,
};

function draw(input: RidgeInput, frame: Frame): Drawing {
  const { of = 'wheel' } = input;
  const drawing = ridgeFigure.draw({ ...input, within: 'within the other limits' }, frame);
  const some = input.lines.some(({ feed }) => feed.some(Number.isFinite));
  const caption = some
    ? `The highest feed of each ${of} at each ${input.x.name} of the product, and along each line the requirement that limits it; limits on the product's size are left out, because the axis is the size. Lines that lie on each other say that the ${of} does not decide the capacity: the fineness does.`
    : `No ${of} runs within the limits at any speed.`;
  return { ...drawing, caption };
}
