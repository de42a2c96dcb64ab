import { FRAGMENT_LAWS } from '../../model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../model/breakage/selection/index.ts';
import type { Case } from '../../model/case.ts';
import type { Warning } from '../../model/parameters.ts';
import { type SizeCurve, sizeAt } from '../../model/psd/curve.ts';
import { finestShare, sauterMeanSize } from '../../model/psd/statistics.ts';
import { EFFICIENCY_LAWS } from '../../model/wheel/efficiency/index.ts';
import { toCase } from '../operating-point.ts';
import type { Scenario } from '../scenario.ts';
import { formatNumber, toShown } from '../units/display.ts';
import { hitWarnings } from './hit-limits.ts';
import { cautionsAt } from './operating-cautions.ts';
import { rotorTooFast, wheelTooFast } from './overspeed.ts';
import type { Point } from './solved.ts';

/** Everything about a point that lies outside a law's validity or a machine's limit, and cautions on the result. */
export function warningsAt(scenario: Scenario, point: Point): Warning[] {
  const c = toCase(scenario);
  return [
    ...machineWarnings(c),
    ...hitWarnings(c),
    ...lawWarnings(c, point),
    ...cautionsAt(c, point),
    ...resultWarnings(c, point),
    ...(point.status === 'steady' ? (point.plant?.warnings ?? []) : []),
    ...inputWarnings(scenario),
  ];
}

function machineWarnings(c: Case): Warning[] {
  const found: Warning[] = [];
  const rpm = (speed: number) => `${formatNumber(toShown(speed, 'rpm'))} rpm`;
  if (rotorTooFast(c)) {
    found.push({
      code: 'rotor-overspeed',
      message: `rotor speed ${rpm(c.settings.rotorSpeed)} is above the highest allowed, ${rpm(c.rotor.maxSpeed)}: do not run this`,
    });
  }
  if (wheelTooFast(c)) {
    found.push({
      code: 'wheel-overspeed',
      message: `wheel speed ${rpm(c.settings.wheelSpeed)} is above the highest allowed, ${rpm(c.wheel.maxSpeed)}: do not run this`,
    });
  }
  return found;
}

function lawWarnings(c: Case, point: Point): Warning[] {
  const found: Warning[] = [];
  const { hitEnergy: energy, impactSpeed: speed, loading } = point.state.conditions;
  for (const { material } of c.components) {
    const selection = SELECTION_LAWS[material.selection.law]!;
    const fragments = FRAGMENT_LAWS[material.fragments.law]!;
    for (const message of selection.outside(material.selection, { energy, speed })) {
      found.push({ code: 'selection-validity', message: `${material.name}: ${message}` });
    }
    for (const message of fragments.outside(material.fragments)) {
      found.push({ code: 'fragments-validity', message: `${material.name}: ${message}` });
    }
  }
  const [low, high] = EFFICIENCY_LAWS[c.wheel.efficiency.law]!.sharpnessRange;
  const loaded = c.wheel.coefficients.sharpness * Math.exp(-c.wheel.coefficients.sharpnessLoading * loading);
  if (loaded < low || loaded > high) {
    found.push({
      code: 'sharpness-clamped',
      message: `sharpness ${formatNumber(loaded)} is outside what the law ${c.wheel.efficiency.law} can express; ${formatNumber(point.state.conditions.sharpness)} was used`,
    });
  }
  return found;
}

function resultWarnings(c: Case, point: Point): Warning[] {
  const found: Warning[] = [];
  const { rotorPower, availablePower } = point.state.conditions;
  if (rotorPower > availablePower) {
    found.push({
      code: 'motor-overload',
      message: `the rotor needs ${formatNumber(rotorPower / 1000)} kW; its motor delivers ${formatNumber(availablePower / 1000)} kW at this speed`,
    });
  }
  if (point.status === 'choked') return found;
  if (Number.isNaN(sizeAt(point.curve, 0.1))) {
    found.push({
      code: 'percentile-below-grid',
      message: `percentiles finer than ${formatNumber(toShown(point.curve.edges[1]!, 'um'))} µm are not resolved and are omitted`,
    });
  }
  found.push(...surfaceWarnings(point.curve));
  if (point.state.circulating > 0.8 * c.loop.chokeLoad * point.state.conditions.airMassFlow) {
    found.push({
      code: 'near-choke',
      message: 'the circulating load is above 80 % of the limit assumed for this machine',
    });
  }
  return found;
}

/** Share of the surface in the two finest octaves of the grid from which it is a matter for a word. */
const NOTABLE_FINES = 0.05;

/** Cautions on d32 and surface, which do not converge where fines thin out more slowly than their size. */
function surfaceWarnings(curve: SizeCurve): Warning[] {
  const finest = finestShare(curve, -1);
  if (finest < NOTABLE_FINES) return [];
  const share = `${formatNumber(100 * finest)} % of the surface lies in the two finest octaves of the grid, from ${formatNumber(toShown(curve.edges[0]!, 'um'))} µm`;
  const message = Number.isNaN(sauterMeanSize(curve))
    ? `d32 and specific surface are omitted: ${share}, so they would reflect the grid limit, not the product`
    : `d32 and specific surface include nothing finer than the grid: ${share}`;
  return [{ code: 'surface-below-grid', message }];
}

/** What is said of the file and holds at every point of it. */
const OF_THE_FILE: readonly string[] = ['unusual-input', 'law-from-outside'];

function inputWarnings(scenario: Scenario): Warning[] {
  const found: Warning[] = scenario.warnings.filter(({ code }) => OF_THE_FILE.includes(code));
  for (const name of scenario.proposed) {
    found.push({
      code: 'proposed-setting',
      message: `${name} was left out of the file and proposed by the program`,
    });
  }
  for (const path of Object.keys(scenario.uncertain)) {
    found.push({
      code: 'uncertain-input',
      message: `${path} is a range or unknown: the middle of the range was used here`,
    });
  }
  return found;
}
