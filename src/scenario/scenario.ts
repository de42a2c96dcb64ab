import type { Air, Component, Loop, Rotor, Wheel } from '../model/case.ts';
import type { Warning } from '../model/parameters.ts';
import type { Evidence } from '../model/sources.ts';
import type { Expression, Requirement } from './expression/expression.ts';

/** A speed as the user states it: of the shaft [1/s], or of the rim or rotor tip [m/s]. */
export interface Speed {
  readonly as: 'shaft' | 'rim';
  readonly value: number;
}

/** Within what a setting is run; SI, speeds by `as`. */
export interface SettingRange {
  readonly from: number;
  readonly to: number;
  readonly as?: 'shaft' | 'rim';
}

/** One factor of a sweep. `path` is `rotorSpeed`, `wheel`, … for settings, else a dotted path in the file. */
export type Factor =
  | {
      readonly kind: 'number';
      readonly path: string;
      /** SI; a speed's values follow `as`. */
      readonly from: number;
      readonly to: number;
      /** Absent where the file gives none; a grid needs it. */
      readonly steps?: number;
      readonly scale: 'linear' | 'log';
      readonly integer: boolean;
      readonly as?: 'shaft' | 'rim';
      /** Unit the user wrote, used for column heads and axes. */
      readonly shownIn: string;
    }
  | {
      readonly kind: 'levels';
      readonly path: string;
      /** SI numbers or names (wheels, laws). */
      readonly levels: readonly (number | string)[];
      readonly as?: 'shaft' | 'rim';
      readonly shownIn: string;
    };

/** What a `sweep:` block states. */
export interface SweepPlan {
  readonly design: string;
  readonly factors: readonly Factor[];
  readonly points?: number;
  readonly seed?: number;
  /** CSV of points for the `list` design. */
  readonly file?: string;
}

/** What is to be made as large or as small as may be, with the text as typed. */
export interface Goal {
  readonly text: string;
  readonly sense: 'maximise' | 'minimise';
  readonly expression: Expression;
}

/** One of several products of the same material on the same machine. Plain data. */
export interface Grade {
  /** Place in the file, from 0: keys of data that was stored come back in another order. */
  readonly place: number;
  /** The requirements of every grade, then its own. */
  readonly spec: readonly Requirement[];
  /** Its own, else the scenario's. */
  readonly goal?: Goal;
  /** Where the file leaves the wheel speed open: the speed proposed for this grade, with its evidence. */
  readonly wheelSpeed?: { readonly speed: Speed; readonly evidence: Provenance; readonly warning: Warning };
}

/** Evidence, unit and place of one number of the scenario, keyed by its path. */
export interface Provenance extends Evidence {
  readonly value: number;
  /** Unit the value is in when shown (`value` is in it too). */
  readonly unit: string;
  readonly meaning: string;
  readonly symbol: string;
}

/** A scenario file, checked and converted to SI, `from:` entries expanded and gaps filled. Plain data, cloneable. */
export interface Scenario {
  readonly title: string;
  readonly job: Readonly<Record<string, string>>;
  /** The picture `job.logo` names, as a data URI. */
  readonly logo?: string;
  readonly components: readonly Component[];
  readonly machine: Loop & {
    readonly name: string;
    readonly rotor: Rotor;
    /** Others to compare with it. */
    readonly rotors?: Readonly<Record<string, Rotor>>;
    readonly wheels: Readonly<Record<string, Wheel>>;
    /** Shaft turns per drive turn: rpm at the shaft for each Hz of drive, as 1/s over 1/s. */
    readonly drives: { readonly rotor?: Drive; readonly wheel?: Drive };
    /** Within what the machine is run, where the file or the catalogue says. */
    readonly ranges?: {
      readonly rotorSpeed?: SettingRange;
      readonly wheelSpeed?: SettingRange;
      readonly feedRate?: SettingRange;
    };
  };
  readonly air: Air;
  readonly settings: {
    readonly rotorSpeed: Speed;
    readonly wheel: string;
    readonly wheelSpeed: Speed;
    readonly feedRate: number;
  };
  /** Settings the file left out and the program proposed. */
  readonly proposed: readonly string[];
  readonly spec: readonly Requirement[];
  readonly goal?: Goal;
  /** Products to be milled in one visit, by name, in the order of the file. */
  readonly grades?: Readonly<Record<string, Grade>>;
  readonly sweep?: SweepPlan;
  readonly powder?: {
    readonly have: number;
    readonly reserve: number;
    readonly lossPerRun: number;
    readonly minimumRun: number;
  };
  /** Numbers given as a range or `unknown`: path → [low, high] SI; the tree holds the middle. */
  readonly uncertain: Readonly<Record<string, readonly [number, number]>>;
  readonly calibration?: Readonly<Record<string, unknown>>;
  /** Optional blocks such as `plant:` and `time:`, read by the registry of blocks; SI. */
  readonly blocks: Readonly<Record<string, BlockValues>>;
  readonly provenance: Readonly<Record<string, Provenance>>;
  /** What a reader of the scenario should know: ranges assumed, speeds proposed. */
  readonly warnings: readonly Warning[];
  /** The file as read, for the report. */
  readonly text: string;
}

/** Values of an optional block: numbers in SI, words, lists, and blocks within. Plain data. */
export interface BlockValues {
  readonly [key: string]: BlockValue;
}
export type BlockValue = number | string | boolean | undefined | BlockValues | readonly BlockValue[];

/** What a drive does: shaft speed in proportion to its frequency. */
export interface Drive {
  /** Drive frequency [Hz] and the shaft speed [1/s] that goes with it. */
  readonly frequency: number;
  readonly shaftSpeed: number;
}
