import { isEven } from '../../search/find/best-point.ts';
import type { FoundPoint } from '../../search/find/find.ts';
import type { GradeFound } from './grade-found.ts';

/** Most wheels of which every combination is looked at. */
const MOST_WHEELS = 8;

interface Option {
  readonly point: FoundPoint;
  readonly chance: number;
}

/**
 * The point each grade is run at: the one named first, or one with another wheel that the samples cannot tell from it, so that
 * the visit needs as few wheels as it can.
 */
export function runPoints(grades: readonly GradeFound[]): readonly FoundPoint[] {
  const options = grades.map(optionsOf);
  const wheels = [...new Set(options.flat().map(({ point }) => wheelOf(point)))].slice(0, MOST_WHEELS);
  let best:
    | { readonly points: readonly FoundPoint[]; readonly size: number; readonly chance: number }
    | undefined;
  for (let bits = 1; bits < 2 ** wheels.length; bits++) {
    const set = wheels.filter((_, k) => bits & (1 << k));
    const taken = options.map((own) => likeliestOf(own.filter(({ point }) => set.includes(wheelOf(point)))));
    if (taken.some((option) => option === undefined)) continue;
    const chance = taken.reduce((sum, option) => sum + option!.chance, 0);
    const fewer = !best || set.length < best.size || (set.length === best.size && chance > best.chance);
    if (fewer) best = { points: taken.map((option) => option!.point), size: set.length, chance };
  }
  return best?.points ?? grades.map(({ answer }) => answer.named);
}

function optionsOf({ answer: { named, likeliest } }: GradeFound): Option[] {
  if (!likeliest) return [{ point: named, chance: 0 }];
  const first = { point: likeliest.point, chance: likeliest.chances.whole };
  const even = likeliest.byChoice.filter(({ chances }) => isEven(chances, likeliest.chances));
  return [first, ...even.map(({ point, chances }) => ({ point, chance: chances.whole }))];
}

function likeliestOf(options: readonly Option[]): Option | undefined {
  return options.reduce<Option | undefined>(
    (best, each) => (best && best.chance >= each.chance ? best : each),
    undefined,
  );
}

function wheelOf({ scenario }: FoundPoint): string {
  return scenario.settings.wheel;
}
