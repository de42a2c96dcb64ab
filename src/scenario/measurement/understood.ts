import type { Basis, Method, ObservationKind, SizePoint } from './measured-sample.ts';
import type { Meaning } from './value-kind.ts';

const KIND = {
  undersize: 'cumulative undersize',
  oversize: 'cumulative oversize',
  'in-class': 'in-class',
  'retained-mass': 'retained mass',
  density: 'density per size',
  'log-density': 'density per logarithm of size',
} as const;

/** `52 classes, 0.3–2000 µm, cumulative undersize, volume %`. */
export function understood(
  kind: ObservationKind,
  points: readonly SizePoint[],
  meaning: Meaning,
  basis: Basis,
  method: Method | undefined,
): string {
  const sizes = points.map((point) => point.size * 1e6);
  const number = (value: number): string => Number(value.toPrecision(4)).toString();
  const range =
    kind === 'residues'
      ? `${points.length === 1 ? 'one size' : 'two sizes'}, ${sizes.map(number).join(' and ')} µm`
      : `${points.length} classes, ${number(sizes[0]!)}–${number(sizes[sizes.length - 1]!)} µm`;
  const whole =
    meaning.kind === 'retained-mass'
      ? ''
      : meaning.whole === undefined
        ? ` by ${basis}`
        : meaning.whole === 100
          ? ` ${basis} %`
          : ` ${basis} fraction`;
  return `${range}, ${KIND[meaning.kind]},${whole || ' mass'}, ${method ?? 'method not stated'}`;
}
