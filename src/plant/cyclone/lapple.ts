import type { LawChoice } from '../../model/parameters.ts';
import { PLANT_SOURCES, recalled } from '../plant-evidence.ts';
import {
  CYCLONE,
  type CycloneDuty,
  type CycloneLaw,
  type CycloneState,
  inletWarnings,
  proportion,
} from './cyclone-law.ts';

const SOURCE = `Lapple, in ${PLANT_SOURCES.cooperAlley}`;

/**
 * Lapple's cut size, d50 = √(9 µ W/(2π N_e v_in (ρ_p − ρ))) (eq. P10).
 *
 * @param viscosity µ [Pa s]
 * @param width W of the inlet [m]
 * @param turns N_e [-]
 * @param inletVelocity v_in [m/s]
 * @param densityDifference ρ_p − ρ [kg/m³]
 * @returns [m]
 * @example lappleCut(2.08333e-5, 0.25, 6, 20, 1598.99) // 6.2354e-6
 */
export function lappleCut(
  viscosity: number,
  width: number,
  turns: number,
  inletVelocity: number,
  densityDifference: number,
): number {
  return Math.sqrt((9 * viscosity * width) / (2 * Math.PI * turns * inletVelocity * densityDifference));
}

/**
 * Share of a size kept, η = 1/(1 + (d50/x)²) (Theodore & DePaola's fit to Lapple's curve, `recalled`).
 *
 * @example lappleEfficiency(2e-6, 2.5e-6) // 0.390
 */
export function lappleEfficiency(size: number, cut: number): number {
  return 1 / (1 + (cut / size) ** 2);
}

/** Lapple's cyclone: turns of the gas in the barrel; knows nothing of loading. */
export const LAPPLE: CycloneLaw = {
  name: 'lapple',
  summary: 'time in the outer vortex against settling to the wall; no effect of loading',
  label: 'recalled',
  source: SOURCE,
  parameters: [
    ...CYCLONE,
    proportion('inletWidth', 'W/D', 'inlet width', 0.25, SOURCE),
    proportion('inletHeight', 'H/D', 'inlet height', 0.5, SOURCE),
    proportion('outletDiameter', 'D_e/D', 'gas outlet diameter', 0.5, SOURCE),
    {
      name: 'turns',
      symbol: 'N_e',
      unit: '1',
      shownIn: '1',
      meaning: 'turns of the gas in the outer vortex',
      exclusiveMinimum: 0,
      maximum: 30,
      preset: recalled(6, SOURCE),
    },
    {
      name: 'lossConstant',
      symbol: 'K',
      unit: '1',
      shownIn: '1',
      meaning: 'constant of the pressure loss',
      exclusiveMinimum: 0,
      maximum: 50,
      preset: recalled(16, SOURCE),
    },
  ],
  inletArea: (choice) => (choice.inletWidth as number) * (choice.inletHeight as number),
  separate,
};

/** Δp = K (H W/D_e²) ρ v_in²/2. */
function separate(choice: LawChoice, diameter: number, duty: CycloneDuty): CycloneState {
  const width = (choice.inletWidth as number) * diameter;
  const height = (choice.inletHeight as number) * diameter;
  const outlet = (choice.outletDiameter as number) * diameter;
  const inletVelocity = duty.flow / (width * height);
  const turns = choice.turns as number;
  const cutSizes = duty.streams.map(({ density }) =>
    lappleCut(duty.viscosity, width, turns, inletVelocity, density - duty.airDensity),
  );
  const heads = ((choice.lossConstant as number) * height * width) / (outlet * outlet);
  return {
    inletVelocity,
    cutSizes,
    kept: cutSizes.map((cut) => duty.sizes.map((size) => lappleEfficiency(size, cut))),
    thrownOut: 0,
    pressureLoss: (heads * duty.airDensity * inletVelocity * inletVelocity) / 2,
    warnings: inletWarnings(inletVelocity),
  };
}
