import { parse } from 'yaml';
import type { Fault } from '../../scenario/errors.ts';
import { posteriorOfJoint } from '../calibration/take-up.ts';
import type { PooledCampaign } from './pool.ts';

/** A calibration file read for pooling. */
export interface Campaign extends PooledCampaign {
  /** Name of its machine, or of its material. */
  readonly of: string;
  /** Entry its scenario took the machine or material from, where the file says. */
  readonly from?: string;
  readonly misfit: boolean;
}

/** A calibration file: its name and text. */
interface CalibrationText {
  readonly name: string;
  readonly text: string;
}

/**
 * Reads calibrations for pooling, with every fault at once.
 *
 * @returns campaigns, or the faults that stand in the way
 */
export function readCampaigns(
  files: readonly CalibrationText[],
  side: 'machine' | 'material',
): { readonly campaigns: readonly Campaign[]; readonly faults: readonly Fault[] } {
  const read = files.map((file) => campaignOf(file, side));
  const campaigns = read.filter((one): one is Campaign => typeof one !== 'string');
  const faults: Fault[] = read.flatMap((one, i) =>
    typeof one === 'string' ? [{ place: files[i]!.name, message: one }] : [],
  );
  const [first] = campaigns;
  for (const one of campaigns) {
    if (plainly(one.of) !== plainly(first!.of))
      faults.push({
        place: one.name,
        message: `is of the ${side} "${one.of}", ${first!.name} of "${first!.of}": pool calibrations of one ${side}`,
      });
  }
  return { campaigns, faults };
}

const plainly = (name: string): string => name.trim().toLowerCase().replace(/\s+/g, ' ');

/** What of a calibration file is needed; anything else is left as it is. */
interface CalibrationFile {
  readonly of?: {
    readonly machine?: string;
    readonly materials?: readonly string[];
    readonly wheels?: readonly string[];
    readonly from?: { readonly machine?: string; readonly material?: string };
  };
  readonly fit?: { readonly lackOfFit?: boolean };
  readonly joint?: unknown;
}

function campaignOf({ name, text }: CalibrationText, side: 'machine' | 'material'): Campaign | string {
  let file: CalibrationFile;
  try {
    file = parse(text) as CalibrationFile;
  } catch (error) {
    return `is no calibration: ${(error as Error).message.split('\n')[0]}`;
  }
  if (typeof file !== 'object' || file === null || file.joint === undefined)
    return 'is no calibration that fit wrote: it has no joint distribution';
  const posterior = posteriorOfJoint(file.joint);
  if (typeof posterior === 'string') return `joint ${posterior}`;
  const { of } = file;
  const materials = of?.materials ?? [];
  if (of?.machine === undefined || materials.length === 0)
    return 'does not say what it is of: an earlier version wrote it; fit its trials again';
  if (side === 'material' && materials.length > 1)
    return `is of a mixture (${materials.join(', ')}): pool --material takes calibrations of one material`;
  const from = of.from?.[side];
  return {
    name,
    posterior,
    ...(of.wheels ? { wheels: of.wheels } : {}),
    of: side === 'machine' ? of.machine : materials[0]!,
    ...(from === undefined ? {} : { from }),
    misfit: file.fit?.lackOfFit === true,
  };
}
