/** Of what gives so much for so much: those that give more than any that costs no more, rising in both. */
export function rising<T extends { gives: number }>(list: readonly T[], costOf: (item: T) => number): T[] {
  const sorted = [...list].sort((a, b) => costOf(a) - costOf(b) || b.gives - a.gives);
  let most = -1;
  return sorted.filter(({ gives }) => {
    if (gives <= most) return false;
    most = gives;
    return true;
  });
}
