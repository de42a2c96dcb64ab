import { describe, test } from 'vitest';
import { dragShape } from '../../src/model/drag.ts';
import { cutSize, stokesCutSize } from '../../src/model/wheel/cut.ts';
import { freeArea, rimFlow } from '../../src/model/wheel/wheel-flow.ts';
import { changed, PILOT, rpm } from '../cases.ts';
import { close } from '../close.ts';

/** Rows W1 to W4 (derived): ρ_p 2700, µ 1.81e-5, ρ 1.204, D 0.2 m, H 0.1 m, χ = 1. */
const bare = changed(PILOT, {
  wheelGeometry: { diameter: 0.2, height: 0.1, vanes: 24, thickness: 0, lean: 0 },
  coefficients: { swirlFactor: 1 },
}).wheel;
const conditions = {
  radius: 0.1,
  particleDensity: 2700,
  airDensity: 1.204,
  viscosity: 1.81e-5,
  meanFreePath: 0,
};

describe('wheel', () => {
  test('W1 (eq. 16, 17, 18): inflow, swirl and Stokes cut at 3000 rpm and 1000 m³/h', () => {
    const flow = rimFlow(bare, 3000 * rpm, 1000 / 3600);
    close(flow.radialVelocity, 4.42097, 1e-4);
    close(flow.swirlVelocity, 31.4159, 1e-4);
    close(stokesCutSize({ ...conditions, ...flow }), 7.3536e-6, 1e-4);
  });
  test('W2: cut at 1000 rpm, sphericity 0.8, no slip', () => {
    const flow = rimFlow(bare, 1000 * rpm, 1000 / 3600);
    close(cutSize({ ...conditions, ...flow }, dragShape(0.8), 1e-5), 30.6775e-6, 1e-3);
  });
  test('W3: 24 vanes of 3 mm', () => {
    const vaned = { ...bare, geometry: { ...bare.geometry, thickness: 0.003 } };
    close(rimFlow(vaned, 3000 * rpm, 1000 / 3600).radialVelocity, 4.9931, 1e-4);
    const open = { ...bare.geometry, openArea: freeArea(vaned.geometry) / freeArea(bare.geometry) };
    close(freeArea(open), freeArea(vaned.geometry), 1e-14);
  });
  test('W4: how the Stokes cut moves with wheel speed, air flow, size of wheel, density and height', () => {
    const cut = (wheel: typeof bare, speed: number, flow: number, density = 2700) =>
      stokesCutSize({
        ...conditions,
        radius: wheel.geometry.diameter / 2,
        particleDensity: density,
        ...rimFlow(wheel, speed * rpm, flow / 3600),
      });
    const base = cut(bare, 3000, 1000);
    close(cut(bare, 6000, 1000) / base, 0.5, 1e-12);
    close(cut(bare, 3000, 2000) / base, Math.SQRT2, 1e-12);
    const twice = { ...bare, geometry: { ...bare.geometry, diameter: 0.4 } };
    close(cut(twice, 1500, 1000) / base, 1, 1e-12);
    const tall = { ...bare, geometry: { ...bare.geometry, height: 0.2 } };
    close(cut(tall, 3000, 1000) / base, Math.SQRT1_2, 1e-12);
    close(cut(bare, 3000, 1000, 2 * (2700 - 1.204) + 1.204) / base, Math.SQRT1_2, 1e-12);
  });
  test('the cut itself goes to the Stokes value where inertia and slip vanish', () => {
    const flow = rimFlow(bare, 3000 * rpm, 1e-9);
    const thick = { ...conditions, ...flow, viscosity: 1e3, airDensity: 1e-12 };
    close(cutSize(thick, dragShape(1), 1e-6), stokesCutSize(thick), 1e-9);
  });
  test('the cut solves its own balance whatever the start', () => {
    const flow = { ...conditions, ...rimFlow(bare, 2000 * rpm, 1500 / 3600), meanFreePath: 6.5e-8 };
    const wanted = cutSize(flow, dragShape(0.85), stokesCutSize(flow));
    for (const start of [1e-8, 1e-6, 1e-3, 0.1]) close(cutSize(flow, dragShape(0.85), start), wanted, 1e-13);
  });
});
