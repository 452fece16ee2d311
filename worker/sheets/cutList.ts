import { shadeWords, type Colour } from '../engine/model/colour.ts';
import type { PieceEnd } from '../engine/model/pieceEnd.ts';
import type { CutLength, Purchase, Requirement, Result } from '../engine/model/result.ts';
import { sizeLabel } from '../engine/model/size.ts';
import { metres } from '../engine/units/length.ts';
import { counted } from './amounts.ts';
import { shelfItem, supplierNames } from './names.ts';

/** A piece to cut. */
export interface CutRow {
  /** "main/W3" as the result names it, "spare"; empty where an older result does not say. */
  name: string;
  /** "W3", with its loom where there are several; "covering C1", "spare". Empty where an older result does not say. */
  piece: string;
  count: number;
  cutMm: number;
  /** From and to of a wire; of a cable its cores; else none. */
  ends: readonly PieceEnd[];
  cores: readonly string[];
  /** How its length follows from what the wire is for, as of a resistor wire: it is neither more nor less. Of others empty. */
  exact: string;
}

/** What is cut out of one length, or out of several alike. */
export interface CutGroup {
  /** The id of its requirement. */
  need: string;
  /** "6 m of thin-wall 1 mm² brown, Mossgate Wiring" */
  from: string;
  /** How many lengths are cut in this very way. */
  lengths: number;
  /** How much is left of each, mm; none where that is not known. */
  leftMm: number | undefined;
  note: string;
  /** Of wire; else what it is. */
  colour: string;
  size: string;
  rows: readonly CutRow[];
}

type ByLength = Exclude<Requirement, { kind: 'count' }>;

/**
 * All that is cut, by the length that it comes from, the longest piece first; last of each need what is in no bought length:
 * tape, which may be joined, and what is not sourced.
 */
export function cutGroups(result: Result): CutGroup[] {
  const plans = new Map(result.cuttingPlans.map((plan) => [plan.requirement, plan]));
  const offers = purchasesByOffer(result);
  return result.requirements.flatMap((need): CutGroup[] => {
    if (need.kind === 'count') return [];
    const about = { need: need.id, ...kindOf(need), note: '' };
    const plan = plans.get(need.id);
    if (!plan) {
      const rows = longestFirst(need.pieces.map((piece) => rowOf(piece, result)));
      const isJoined = need.kind === 'length' && need.joinable;
      const from = isJoined ? `${need.label}, which may be joined` : `${need.label}: not sourced`;
      return rows.length === 0 ? [] : [{ ...about, from, lengths: 1, leftMm: undefined, rows }];
    }
    const finder = pieceFinder(need, result);
    return plan.lengths.flatMap((length) =>
      eachLength(length).map(({ lengths, pieces }) => ({
        ...about,
        from: `${lengthName(length, offers)} of ${need.label}${sourceOf(length, offers, result)}`,
        lengths,
        leftMm: length.offcutMm,
        note: plan.exact ? '' : 'another way of cutting may leave more',
        rows: longestFirst(pieces.map(finder)),
      })),
    );
  });
}

function kindOf(need: ByLength): { colour: string; size: string } {
  return need.kind === 'wire'
    ? { colour: shortColour(need.colour), size: sizeLabel(need.size) }
    : { colour: '', size: '' };
}

/** "green/white": the base before the tracer, as the trade writes it. The heading says it in full. */
function shortColour({ base, tracer }: Colour): string {
  return [base, ...(tracer === undefined ? [] : [tracer])].map(shadeWords).join('/');
}

interface Piece {
  name: string;
  cutMm: number;
  count: number;
}

/** The lengths that are cut alike, each with its own pieces; those with the very same pieces together. */
function eachLength({ lengths, pieces }: CutLength): { lengths: number; pieces: Piece[] }[] {
  const all = new Map<string, { lengths: number; pieces: Piece[] }>();
  for (let at = 0; at < lengths; at++) {
    const own = pieces.flatMap(({ cutMm, count, names }): Piece[] => {
      if (!names) return [{ name: '', cutMm, count }];
      const counts = new Map<string, number>();
      for (const name of names.slice(at * count, (at + 1) * count))
        counts.set(name, (counts.get(name) ?? 0) + 1);
      return [...counts].map(([name, each]) => ({ name, cutMm, count: each }));
    });
    const key = JSON.stringify(own);
    const known = all.get(key);
    if (known) known.lengths++;
    else all.set(key, { lengths: 1, pieces: own });
  }
  return [...all.values()];
}

type PieceOf = ByLength['pieces'][number];

function nameOf(piece: PieceOf): string {
  return `${piece.loom}/${'wire' in piece ? piece.wire : piece.what}`;
}

function rowOf(piece: PieceOf, result: Result): CutRow {
  const { count, cutMm } = piece;
  const name = nameOf(piece);
  return { name, piece: shortName(name, result), count, cutMm, ...aboutOf(piece) };
}

/** Finds what a named piece of a cutting plan is. */
function pieceFinder(need: ByLength, result: Result): (piece: Piece) => CutRow {
  const pieces = new Map(need.pieces.map((piece: PieceOf) => [nameOf(piece), piece]));
  return ({ name, cutMm, count }) => ({
    name,
    piece: shortName(name, result),
    count,
    cutMm,
    ...aboutOf(pieces.get(name)),
  });
}

function aboutOf(piece: PieceOf | undefined): Pick<CutRow, 'ends' | 'cores' | 'exact'> {
  if (!piece) return { ends: [], cores: [], exact: '' };
  if (!('wire' in piece)) return { ends: [], cores: piece.cores ?? [], exact: '' };
  const exact = piece.steps.find(({ rule }) => rule === 'function')?.text ?? '';
  return { ends: piece.ends ?? [], cores: [], exact };
}

/** The loom is left out where there is only one. */
function shortName(name: string, { looms }: Result): string {
  return looms.length === 1 ? name.replace(/^[^/]*\//, '') : name;
}

function longestFirst(rows: readonly CutRow[]): CutRow[] {
  return [...rows].sort((a, b) => b.cutMm - a.cutMm);
}

type Offers = ReadonlyMap<string, Purchase>;

const offerKey = (offer: string, wave: number | undefined) => JSON.stringify([offer, wave ?? 0]);

function purchasesByOffer({ purchases }: Result): Offers {
  return new Map(purchases.map((purchase) => [offerKey(purchase.offer, purchase.wave), purchase]));
}

/** "6 m"; of a fixed length its nominal length, with what is usable of it where that is less. */
function lengthName({ offer, wave, usableMm }: CutLength, offers: Offers): string {
  const bought = offer === undefined ? undefined : offers.get(offerKey(offer, wave))?.bought;
  if (bought?.form !== 'length' || bought.nominalMm === usableMm) return metres(usableMm);
  return `${metres(bought.nominalMm)} (${metres(usableMm)} usable)`;
}

/** ", Mossgate Wiring, order 2", or where it lies on the shelf. */
function sourceOf({ offer, stock, wave }: CutLength, offers: Offers, result: Result): string {
  if (offer === undefined) {
    const taken = result.fromStock.find((item) => item.stock === stock);
    return `, from the shelf (${shelfItem(stock ?? '', taken)})`;
  }
  const supplier = offers.get(offerKey(offer, wave))?.supplier;
  const order = wave === undefined ? '' : `, order ${wave}`;
  return supplier === undefined ? order : `, ${supplierNames(result)(supplier)}${order}`;
}

/** The heading of a group: "From 6 m of thin-wall 1 mm² brown, Mossgate Wiring. 0.208 m is left." */
export function groupHead({ from, lengths, leftMm, note, rows }: CutGroup): string {
  const each = lengths === 1 ? '' : `each of ${counted(lengths, 'length')}: `;
  if (rows.length === 0) return `${each}${from}. Nothing is cut from it.`;
  if (leftMm === undefined) return `${from}.`;
  return `From ${each}${from}. ${metres(leftMm)} is left${note === '' ? '' : `; ${note}`}.`;
}

const JOINS: Record<PieceEnd['join'], string> = {
  crimp: 'crimped',
  solder: 'soldered',
  joint: 'joint',
  bare: 'bare',
};

/** "plug 1: blade-63, shared". The terminal is the one that is bought. */
export function endWords(end: PieceEnd, bought: (terminal: string) => string): string {
  const { point, way, join, terminal, shared = false, inVehicle = false } = end;
  const place = way === undefined ? point : `${point} ${way}`;
  const what = terminal === undefined ? JOINS[join] : bought(terminal);
  return [
    `${place}: ${what}`,
    ...(terminal !== undefined && join === 'solder' ? ['soldered'] : []),
    ...(shared ? ['shared'] : []),
    ...(inVehicle ? ['finish in the vehicle'] : []),
  ].join(', ');
}

/** What is bought for a terminal that a loom names: it, or what stands in for it. */
export function boughtTerminals({ requirements }: Result): (terminal: string) => string {
  const inPlace = new Map(
    requirements.flatMap((need) =>
      need.kind === 'count' && need.boughtAs
        ? [[need.part, need.boughtAs.map(({ part }) => part).join(' or ')] as const]
        : [],
    ),
  );
  return (terminal) => inPlace.get(terminal) ?? terminal;
}
