import { label } from '../../answers/text.ts';
import type { Wheel } from '../../model/case.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Html, html } from '../html/template.ts';

const WIDTH = 290;
const HEIGHT = 190;
/** Pixels for a metre of wheel. */
const SCALE = 800;
/** Radial depth of the vanes over the radius, as drawn; the model takes none (`assumed`). */
const DEPTH = 0.22;

/** Each wheel from above and from the side, to one scale. */
export function wheelDrawings({ machine }: Scenario): Html {
  return html`<div class="wheels">${Object.entries(machine.wheels).map(([name, wheel]) => oneWheel(label(name), wheel))}</div>`;
}

const px = (value: number) => Math.round(value * 10) / 10;

function oneWheel(name: string, { geometry }: Wheel): Html {
  const { diameter, height, vanes, thickness, lean } = geometry;
  const radius = (diameter / 2) * SCALE;
  const side = { left: 2 * radius + 24, width: 80, tall: height * SCALE };
  const top = HEIGHT / 2 - side.tall / 2;
  const bars = Array.from({ length: 7 }, (_, k) => {
    const x = side.left + (side.width * (k + 0.5)) / 7;
    return html`<path d="M${px(x)},${px(top)}V${px(top + side.tall)}"/>`;
  });
  const words = `${name}: diameter ${Math.round(diameter * 1e3)} mm, height ${Math.round(height * 1e3)} mm, ${vanes} vanes of ${px(thickness * 1e3)} mm, leaning ${Math.round((lean * 180) / Math.PI)}°`;
  return html`<figure class="wheel"><svg viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-label="${words}">
<g fill="none" style="stroke:var(--ink)" stroke-width="${px(thickness * SCALE)}">${vaneLines(geometry, radius)}${bars}</g>
<g fill="none" style="stroke:var(--soft)" stroke-width="1"><rect x="${px(side.left)}" y="${px(top)}" width="${side.width}" height="${px(side.tall)}"/><circle cx="${px(radius + 4)}" cy="${HEIGHT / 2}" r="${px(radius)}"/></g></svg>
<figcaption>${words}</figcaption></figure>`;
}

function vaneLines({ vanes, lean }: Wheel['geometry'], radius: number): Html[] {
  const [cx, cy] = [radius + 4, HEIGHT / 2];
  const depth = radius * DEPTH;
  return Array.from({ length: vanes }, (_, k) => {
    const angle = (2 * Math.PI * k) / vanes;
    const [x, y] = [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
    const [dx, dy] = [depth * Math.cos(angle + lean), depth * Math.sin(angle + lean)];
    return html`<path d="M${px(x)},${px(y)}L${px(x - dx)},${px(y - dy)}"/>`;
  });
}
