import type { Case } from '../../model/case.ts';
import type { Warning } from '../../model/parameters.ts';
import { FEED_LAWS } from '../../model/psd/feed/index.ts';
import { formatNumber, formatQuantity } from '../units/display.ts';

/** Share of the feed that may be wider than the gap: a law's own top is where its tail is cut off, not a lump. */
const LUMPS = 1e-3;
/** Element width over rotor diameter up to which eq. 4 holds. */
const WIDEST = 1 / 4;

/**
 * Where the picture behind hits per pass (eq. 4) ends: lumps that do not fit between rotor and liner; elements so wide
 * that the ring about them is no thin ring, so close that powder cannot enter between them, or so few that it passes
 * between them unstruck, ψ v_tip ≥ 2 w · count · N, where a wider gap would hit more often.
 */
export function hitWarnings(c: Case): Warning[] {
  const { gap, width, diameter, count } = c.rotor.geometry;
  const { returnRatio } = c.rotor.coefficients;
  const mm = (length: number) => formatQuantity(length, 'mm', 3);
  const found: Warning[] = [];
  const above = c.components.reduce(
    (sum, { feed, share }) => sum + share * (1 - FEED_LAWS[feed.law]!.undersize(feed, gap)),
    0,
  );
  if (above > LUMPS)
    found.push({
      code: 'feed-above-gap',
      message: `${formatNumber(100 * above, 2)} % of the feed is wider than the ${mm(gap)} between rotor and liner and can jam there; crush the feed first or widen the gap`,
    });
  if (width > WIDEST * diameter)
    found.push({
      code: 'elements-wide',
      message: `the rotor's elements are ${mm(width)} wide, more than a quarter of its diameter, ${mm(diameter)}: hits per pass (eq. 4) are not reliable; check the width`,
    });
  const pitch = (Math.PI * diameter) / count;
  if (pitch < width)
    found.push({
      code: 'elements-close',
      message: `the rotor's ${count} elements stand ${mm(pitch)} apart and are ${mm(width)} wide: no powder enters between them, so hits per pass (eq. 4) do not hold; check count and width`,
    });
  if (returnRatio * Math.PI * diameter >= 2 * width * count) {
    const fewest = Math.floor((returnRatio * Math.PI * diameter) / (2 * width)) + 1;
    found.push({
      code: 'elements-few',
      message: `with ${count} elements of ${mm(width)} powder passes between them unstruck, and hits per pass (eq. 4) do not hold; use at least ${fewest} elements or a smaller return ratio than ${formatNumber(returnRatio, 2)}`,
    });
  }
  return found;
}
