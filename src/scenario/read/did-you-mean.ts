/**
 * Nearest of some names to a mistyped one, by edit distance; undefined where none is near enough to help.
 *
 * @example nearestName('wheelSped', ['wheelSpeed', 'rotorSpeed']) // 'wheelSpeed'
 */
export function nearestName(typed: string, names: readonly string[]): string | undefined {
  const word = typed.toLowerCase().slice(0, 60);
  let best: string | undefined;
  let least = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const name of names) {
    const distance = editDistance(word, name.toLowerCase(), least);
    if (distance < least) {
      best = name;
      least = distance;
    }
  }
  return best;
}

/** ` Did you mean …?` or the list of what there is, as the tail of a message. */
export function suggestion(typed: string, names: readonly string[]): string {
  const nearest = nearestName(typed, names);
  if (nearest !== undefined) return `; did you mean ${nearest}?`;
  if (names.length === 0) return '';
  const shown = names.slice(0, 12).join(', ');
  return `; known: ${shown}${names.length > 12 ? ', …' : ''}`;
}

function editDistance(a: string, b: string, stopAt: number): number {
  if (Math.abs(a.length - b.length) >= stopAt) return stopAt;
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      next[j] = Math.min(next[j - 1]! + 1, row[j]! + 1, row[j - 1]! + change);
    }
    row = next;
  }
  return row[b.length]!;
}
