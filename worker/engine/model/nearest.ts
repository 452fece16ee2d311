/** Which of the names is nearest to what was typed, whatever its capitals; the first of equals, undefined where there are none. */
export function nearestName(typed: string, names: readonly string[]): string | undefined {
  const wanted = typed.toLowerCase();
  let nearest: string | undefined;
  let least = Infinity;
  for (const name of names) {
    const apart = editDistance(wanted, name.toLowerCase());
    if (apart < least) [nearest, least] = [name, apart];
  }
  return nearest;
}

/** Levenshtein's distance (1966): the fewest characters put in, taken out or exchanged that make one text of the other. */
export function editDistance(from: string, to: string): number {
  const target = [...to];
  let row = Array.from({ length: target.length + 1 }, (_, at) => at);
  [...from].forEach((character, above) => {
    const next = [above + 1];
    target.forEach((other, at) => {
      const exchanged = (row[at] ?? 0) + (character === other ? 0 : 1);
      next.push(Math.min(exchanged, (row[at + 1] ?? 0) + 1, (next[at] ?? 0) + 1));
    });
    row = next;
  });
  return row[target.length] ?? 0;
}
