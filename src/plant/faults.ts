import type { LawChoice } from '../model/parameters.ts';
import type { Plant } from './plant.ts';

/** A contradiction between numbers of a plant, each allowed by itself. */
interface PlantFault {
  /** Path under `plant`. */
  readonly place: string;
  readonly message: string;
}

/** What of a plant cannot be: dimensions that do not fit into one another, a fan curve that does not fall. */
export function plantFaults({ cyclone, fan }: Plant): PlantFault[] {
  return [...cycloneFaults(cyclone), ...(fan ? fanFaults(fan) : [])];
}

function cycloneFaults(cyclone: LawChoice): PlantFault[] {
  const of = (name: string) => cyclone[name] as number | undefined;
  const less = (small: string, large: string): PlantFault[] => {
    const [a, b] = [of(small), of(large)];
    return a !== undefined && b !== undefined && !(a < b)
      ? [{ place: `cyclone.${small}`, message: `must be less than ${large} (${b}), is ${a}` }]
      : [];
  };
  const outlet = of('outletDiameter') ?? 0;
  const room = (1 - outlet) / 2;
  const width = of('inletWidth') ?? 0;
  const faults = [...less('coneHeight', 'height'), ...less('finderLength', 'height')];
  if (outlet >= 1)
    faults.push({ place: 'cyclone.outletDiameter', message: `must be less than 1, is ${outlet}` });
  else if (width > room + 1e-9)
    faults.push({
      place: 'cyclone.inletWidth',
      message: `must fit between barrel and gas outlet, at most ${Number(room.toPrecision(4))}, is ${width}`,
    });
  const dust = of('dustOutlet') ?? 0;
  if (dust > 1) faults.push({ place: 'cyclone.dustOutlet', message: `must not be more than 1, is ${dust}` });
  return faults;
}

function fanFaults(fan: LawChoice): PlantFault[] {
  if (fan.law === 'parabola') {
    const [zero, point] = [fan.shutOff as number, fan.pressure as number];
    return zero > point
      ? []
      : [{ place: 'fan.shutOff', message: `must be above fan.pressure (${point} Pa), is ${zero} Pa` }];
  }
  const points = fan.points as readonly (readonly [number, number])[];
  const [before, last] = [points.at(-2)!, points.at(-1)!];
  return last[1] < before[1]
    ? []
    : [{ place: 'fan.points', message: 'must end with falling pressure, so that the curve meets a plant' }];
}
