import type { PlantState } from '../../plant/plant-state.ts';
import type { ScreeningLine } from '../../plant/safety/plant-screening.ts';
import { formatNumber as n, formatQuantity as q } from '../../scenario/units/display.ts';

/** What the fan has to give, or gives, and how much the cyclone keeps. */
export function airSentence({ case: c, march, fan, plant }: PlantState): string {
  const { unit } = march.cyclone;
  const air = q(c.air.flow, 'm^3/h');
  const rise = `${q(fan.rise, 'Pa')} at ${q(fan.flow, 'm^3/h')}, ${q(fan.power, 'kW')} at its shaft`;
  const byFan =
    plant.fan?.speed === undefined
      ? `the air is held at ${air}; the fan must give ${rise}`
      : `the fan draws ${air} through the mill (${rise})`;
  return `${byFan}. The cyclone keeps ${n(100 * unit.collected)} % of the product (cut ${q(unit.cutSizes[0]!, 'um', 3)}), the filter the rest.`;
}

/** A unit with the share of its limit that is used. */
export interface Utilisation {
  readonly name: string;
  readonly share: number;
}

/** How far every unit that is given is used; those sized for the point have no limit of their own. */
export function utilisations({ march, feeder, fan, plant }: PlantState): Utilisation[] {
  const { unit: filter } = march.filter;
  const { lock } = march.cyclone;
  const all: readonly (readonly [name: string, given: boolean, share: number])[] = [
    ['air-to-cloth ratio of the filter', filter.given, filter.airToCloth / plant.filter.airToCloth],
    ['pressure loss of the filter', filter.given, filter.pressureLoss / plant.filter.highestLoss],
    ['airlock under the cyclone', lock.given, lock.use],
    ['feeder', feeder.given, feeder.use],
    ['fan speed', plant.fan !== undefined && plant.fan.speed === undefined, fan.speed],
    ['fan motor', plant.fan?.motorPower !== undefined, fan.motorUse],
  ];
  return all
    .flatMap(([name, given, share]) => (given && Number.isFinite(share) ? [{ name, share }] : []))
    .sort((a, b) => b.share - a.share);
}

/** The unit used most, of those given. */
export function utilisationSentence(used: readonly Utilisation[]): string {
  const [most] = used;
  if (!most) return 'No unit is given: every one is sized for this point, so none of them limits it.';
  return `Highest utilisation among the units given: ${most.name}, ${n(100 * most.share, 3)} %.`;
}

/** How far the product is from its limits of heat and humidity, and the walls from the dew point. */
export function productSentence({ moisture }: PlantState): string {
  const { temperatureMargin: heat, humidityMargin: humidity, dewMargin: dew } = moisture;
  const points = `${n(Math.abs(100 * humidity), 3)} percentage points`;
  const parts = [
    Number.isNaN(heat)
      ? 'no temperature limit is given'
      : `${n(Math.abs(heat), 3)} K ${heat < 0 ? 'above' : 'below'} the product's temperature limit`,
    Number.isNaN(humidity)
      ? 'no critical humidity is given'
      : humidity < 0
        ? `stored humidity ${points} above the critical humidity: the product may cake`
        : `stored humidity ${points} below the critical humidity`,
    `coldest wall ${n(Math.abs(dew), 3)} K ${dew < 0 ? 'below' : 'above'} the dew point`,
  ];
  return `Product: ${parts.join('; ')}.`;
}

/** Where power goes, and how much of it leaves through walls. */
export function heatSentence({ state, fan, march }: PlantState): string {
  const { rotorPower, wheelPower } = state.conditions;
  const lost = march.mill.heat + march.conveying.heat + march.cyclone.heat + march.filter.heat;
  const balance =
    lost === 0
      ? 'no loss through the walls is counted'
      : lost < 0
        ? `${q(-lost, 'kW', 3)} comes in through the walls`
        : `${q(lost, 'kW', 3)} of it is lost through the walls`;
  return `Heat: rotor ${q(rotorPower, 'kW', 3)}, wheel ${q(wheelPower, 'kW', 3)}, fan ${q(fan.power, 'kW', 3)}; ${balance}.`;
}

/** How well the balances close. */
export function balanceSentence({ closure }: PlantState): string {
  const worst = Math.max(...Object.values(closure).map(Math.abs));
  return `The balances of air, water, solids and energy close to ${worst.toExponential(0)}.`;
}

/** How many lines of the screening stand how. */
export function screeningSentence(lines: readonly ScreeningLine[]): string {
  const count = (standing: ScreeningLine['standing']) =>
    lines.filter((line) => line.standing === standing).length;
  return `${count('hazard')} hazards, ${count('unknown hazard')} unknown hazards, ${count('to be judged')} to be judged; \`--safety\` shows every line with its caution.`;
}
