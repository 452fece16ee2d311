export interface Cuts {
  cutMm: number;
  count: number;
}

/** A length in one piece; where that were longer than the longest that is cut anyway, as often that one, and the rest. */
export function inPieces(mm: number, longestMm: number): Cuts[] {
  if (mm <= 0 || longestMm <= 0) return [];
  const whole = Math.floor(mm / longestMm);
  const rest = mm - whole * longestMm;
  return [
    ...(whole > 0 ? [{ cutMm: longestMm, count: whole }] : []),
    ...(rest > 0 ? [{ cutMm: rest, count: 1 }] : []),
  ];
}

/** "in one piece", "in pieces of 2 × 1000 + 500, none longer than the longest piece that is cut" */
export function piecesText(pieces: readonly Cuts[]): string {
  if (pieces.length === 1 && pieces[0]?.count === 1) return 'in one piece';
  const terms = pieces.map(({ cutMm, count }) => (count === 1 ? `${cutMm}` : `${count} × ${cutMm}`));
  return `in pieces of ${terms.join(' + ')}, none longer than the longest piece that is cut`;
}
