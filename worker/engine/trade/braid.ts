/** What a braid states of how it shortens. */
export interface BraidFigures {
  restDiameterMm?: number | undefined;
  /** Of its threads to its length, as it lies. */
  braidAngleDeg?: number | undefined;
  shortensTo?: readonly { openedToMm: number; per100Mm: number }[] | undefined;
  holdsMinMm?: number | undefined;
  holdsMaxMm?: number | undefined;
}

/** No braid is reckoned to shorten to less than this share: nearer to its widest the sum means nothing. */
const SHORTEST = 0.1;

/**
 * sin² of the angle at which a braid holds most: V ∝ cos θ·sin² θ is greatest at tan² θ = 2, 54.7356° (computed). It is
 * taken for the angle of the threads at the widest that a braid is stated to hold: common practice, no source.
 */
const WIDEST_SIN_SQUARE = 2 / 3;

/**
 * What a length of braid becomes when it is opened to a diameter, as a share; 1 where it is not opened beyond its rest. By
 * the maker's or user's table; else by its angle as it lies. Undefined where it states neither.
 */
export function braidShare(braid: BraidFigures, openedMm: number): number | undefined {
  const { restDiameterMm: rest, braidAngleDeg: angle } = braid;
  const byTable = tableShare(braid, openedMm);
  if (byTable !== undefined) return guarded(byTable);
  if (rest === undefined || angle === undefined) return undefined;
  return turnedShare({ perMm: sinOf(angle) / rest, restSin: sinOf(angle) }, openedMm);
}

/**
 * The same by the range that a braid is stated to hold: its threads stand at 54.74° at the upper end, and it lies as at its
 * lower end, where it states no rest; one that states no lower end, as long as it can be drawn. Undefined without a range.
 */
export function rangeShare(braid: BraidFigures, openedMm: number): number | undefined {
  const { restDiameterMm, braidAngleDeg, holdsMinMm = 0, holdsMaxMm } = braid;
  const widestSin = Math.sqrt(WIDEST_SIN_SQUARE);
  if (braidAngleDeg !== undefined && restDiameterMm === undefined) {
    const restSin = sinOf(braidAngleDeg);
    // It lies no narrower than lets it open to its upper end.
    const lies = Math.max(holdsMinMm, ((holdsMaxMm ?? 0) * restSin) / widestSin);
    return lies === 0 ? undefined : turnedShare({ perMm: restSin / lies, restSin }, openedMm);
  }
  if (holdsMaxMm === undefined) return undefined;
  const perMm = widestSin / holdsMaxMm;
  return turnedShare({ perMm, restSin: perMm * (restDiameterMm ?? holdsMinMm) }, openedMm);
}

/**
 * Threads of length b that go n times round make L = b·cos θ, D = b·sin θ/(nπ) (Chou & Hannaford 1996, from memory), so
 * sin θ = D·nπ/b, and L = b·√(1 − (D·nπ/b)²).
 *
 * @param braid nπ/b a mm, and the sine of its angle as it lies
 */
function turnedShare({ perMm, restSin }: { perMm: number; restSin: number }, openedMm: number): number {
  const squareAt = (sin: number) => Math.max(0, 1 - sin ** 2);
  const rest = squareAt(restSin);
  return rest === 0 ? 1 : guarded(Math.sqrt(squareAt(perMm * openedMm) / rest));
}

/**
 * By a table: between its entries on a straight line, which lies under the braid's own curve, so that nothing comes out too
 * short; under the first as that one; beyond the last on the curve, L² against D², through the last two, or through the
 * only one and its rest.
 */
function tableShare(braid: BraidFigures, openedMm: number): number | undefined {
  const table = (braid.shortensTo ?? [])
    .map(({ openedToMm, per100Mm }) => ({ mm: openedToMm, share: per100Mm / 100 }))
    .sort((a, b) => a.mm - b.mm || b.share - a.share);
  const above = table.find(({ mm }) => mm >= openedMm);
  const below = table.findLast(({ mm }) => mm <= openedMm);
  if (!below) return above?.share;
  if (above) {
    const span = above.mm - below.mm;
    const part = span === 0 ? 0 : (openedMm - below.mm) / span;
    return below.share + part * (above.share - below.share);
  }
  const rest = { mm: Math.min(braid.restDiameterMm ?? braid.holdsMinMm ?? 0, below.mm), share: 1 };
  const before = table.findLast(({ mm }) => mm < below.mm) ?? rest;
  const span = below.mm ** 2 - before.mm ** 2;
  const slope = span === 0 ? 0 : Math.min(0, (below.share ** 2 - before.share ** 2) / span);
  return Math.sqrt(Math.max(0, below.share ** 2 + slope * (openedMm ** 2 - below.mm ** 2)));
}

/** The widest that a braid opens, its threads square to its length: D/sin θ, mm; undefined where it states no angle. */
export function braidWidestMm({ restDiameterMm, braidAngleDeg }: BraidFigures): number | undefined {
  if (restDiameterMm === undefined || braidAngleDeg === undefined) return undefined;
  return restDiameterMm / sinOf(braidAngleDeg);
}

const guarded = (share: number) => Math.min(1, Math.max(SHORTEST, share));
const sinOf = (degrees: number) => Math.sin((degrees * Math.PI) / 180);
