/** What a braid states of how it shortens. */
export interface BraidFigures {
  restDiameterMm?: number | undefined;
  /** Of its threads to its length, as it lies. */
  braidAngleDeg?: number | undefined;
  shortensTo?: readonly { openedToMm: number; per100Mm: number }[] | undefined;
}

/** No braid is reckoned to shorten to less than this share: nearer to its widest the sum means nothing. */
const SHORTEST = 0.1;

/**
 * What a length of braid becomes when it is opened to a diameter, as a share; 1 where it is not opened beyond its rest.
 * By the maker's or user's table, between its entries on a straight line and beyond them as the nearest; else by its
 * angle: threads of length b that go n times round make L = b·cos θ, D = b·sin θ/(nπ), so L = √(b² − (nπD)²) (Chou &
 * Hannaford 1996, from memory). Undefined where it states neither.
 */
export function braidShare(braid: BraidFigures, openedMm: number): number | undefined {
  const share = byTable(braid, openedMm) ?? byAngle(braid, openedMm);
  return share === undefined ? undefined : Math.min(1, Math.max(SHORTEST, share));
}

function byTable({ shortensTo = [] }: BraidFigures, openedMm: number): number | undefined {
  const table = [...shortensTo].sort((a, b) => a.openedToMm - b.openedToMm || b.per100Mm - a.per100Mm);
  const above = table.find(({ openedToMm }) => openedToMm >= openedMm);
  const below = table.findLast(({ openedToMm }) => openedToMm <= openedMm);
  if (!above || !below) return (above ?? below) && ((above ?? below)?.per100Mm ?? 100) / 100;
  const span = above.openedToMm - below.openedToMm;
  const part = span === 0 ? 0 : (openedMm - below.openedToMm) / span;
  return (below.per100Mm + part * (above.per100Mm - below.per100Mm)) / 100;
}

function byAngle({ restDiameterMm, braidAngleDeg }: BraidFigures, openedMm: number): number | undefined {
  if (restDiameterMm === undefined || braidAngleDeg === undefined) return undefined;
  const angle = (braidAngleDeg * Math.PI) / 180;
  // Of a length of 1 as it lies: b = 1/cos θ, nπ = tan θ/D.
  const square = 1 / Math.cos(angle) ** 2 - ((Math.tan(angle) * openedMm) / restDiameterMm) ** 2;
  return Math.sqrt(Math.max(0, square));
}

/** The widest that a braid opens, its threads square to its length: D/sin θ, mm; undefined where it states no angle. */
export function braidWidestMm({ restDiameterMm, braidAngleDeg }: BraidFigures): number | undefined {
  if (restDiameterMm === undefined || braidAngleDeg === undefined) return undefined;
  return restDiameterMm / Math.sin((braidAngleDeg * Math.PI) / 180);
}
