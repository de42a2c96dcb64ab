import { Matrix } from 'ml-matrix';
import { sideOf } from '../../scenario/read/calibration.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Coefficient, coordinateOf, numberAt } from '../fit/coefficient.ts';
import { type Prior, priorOf } from '../fit/coefficients.ts';
import { cholesky } from '../fit/covariance.ts';
import type { Posterior } from '../fit/fit.ts';
import { drawFrom } from '../fit/multistart.ts';
import { PLACES } from '../fit/shared-error.ts';
import { seeded } from '../random.ts';
import { takenUpOf } from './calibration-standing.ts';

/**
 * What of a calibration holds for a scenario: the machine's side for another material, the material's for another machine.
 * Every other uncertain number of the scenario returns to its prior, independent of the rest. The error the trials shared was
 * that of their material on their machine: it is not carried over, only its size.
 */
export function usedPart(scenario: Scenario, posterior: Posterior): Posterior {
  const used = takenUpOf(scenario.calibration!);
  const { coefficients } = posterior.prior;
  const kept = coefficients.flatMap(({ path }, i) => (used[sideOf(path)] ? [i] : []));
  const known = new Set(
    kept.flatMap((i) => [coefficients[i]!.path, ...(coefficients[i]!.also ?? []).map(({ path }) => path)]),
  );
  const { coefficients: fitted, ...whole } = priorOf(scenario);
  const without = fitted.map((one) => withoutPaths(one, known));
  const left = fitted.map((one, i) => without[i] ?? one);
  const all = {
    ...whole,
    coefficients: left,
    mean: left.map((one) => coordinateOf(one, one.prior)),
  };
  const fresh = without.flatMap((one, i) => (one ? [i] : []));
  if (kept.length === coefficients.length && fresh.length === 0) return posterior;
  const added = partOf(all, fresh);
  const old = partOf(posterior.prior, kept);
  const same = used.material && used.machine;
  const draws = posterior.draws?.map((draw, k) => ({
    ...draw,
    coordinates: [
      ...kept.map((i) => draw.coordinates[i]!),
      ...(fresh.length > 0 ? drawFrom(added.mean, cholesky(added.covariance), seeded(k + 1)) : []),
    ],
    ...(same ? {} : { share: 0, shared: { sizes: PLACES.map(() => 0), power: 0 } }),
  }));
  return {
    prior: {
      coefficients: [...old.coefficients, ...added.coefficients],
      mean: [...old.mean, ...added.mean],
      covariance: joined(old.covariance, added.covariance),
    },
    mean: [...kept.map((i) => posterior.mean[i]!), ...added.mean],
    covariance: joined(posterior.covariance.selection(kept, kept), added.covariance),
    discrepancy: posterior.discrepancy,
    ...(draws ? { draws } : {}),
  };
}

/**
 * A coefficient without the paths a calibration sets already: of one that all wheels share, what the wheels the calibration does
 * not know are left with. The distances between them stay.
 */
function withoutPaths(one: Coefficient, known: ReadonlySet<string>): Coefficient | undefined {
  const places = [{ path: one.path, shift: 0 }, ...(one.also ?? [])].filter(({ path }) => !known.has(path));
  const [first, ...rest] = places;
  if (!first) return undefined;
  if (places.length === 1 + (one.also?.length ?? 0)) return one;
  const { also: _, ...alone } = one;
  return {
    ...alone,
    path: first.path,
    prior: numberAt(one, coordinateOf(one, one.prior) + first.shift),
    ...(rest.length > 0
      ? { also: rest.map(({ path, shift }) => ({ path, shift: shift - first.shift })) }
      : {}),
  };
}

function partOf({ coefficients, mean, covariance }: Prior, at: readonly number[]): Prior {
  return {
    coefficients: at.map((i) => coefficients[i]!),
    mean: at.map((i) => mean[i]!),
    covariance: at.length > 0 ? covariance.selection([...at], [...at]) : new Matrix(0, 0),
  };
}

/** Two covariances of what is independent, one after the other. */
function joined(one: Matrix, other: Matrix): Matrix {
  const n = one.rows + other.rows;
  const result = Matrix.zeros(n, n);
  result.setSubMatrix(one, 0, 0);
  if (other.rows > 0) result.setSubMatrix(other, one.rows, one.rows);
  return result;
}
