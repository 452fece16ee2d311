import type { MovementBody, MovementIn, MovementKind } from './movement.ts';
import type { StockItem } from './stock.ts';

/** A row of the ledger before it has its number and its time. */
export interface Moved {
  kind: MovementKind;
  change: number;
  body: MovementBody;
}

/** A length that was cut off and is worth keeping. */
export interface Offcut {
  lengthMm: number;
}

export interface Move {
  /** The item as it is after it. */
  item: StockItem;
  moved: Moved;
  offcut?: Offcut;
  /** What is left over and not kept, mm. */
  droppedMm?: number;
}

/** Why a movement cannot be: the field, what was found there, and what to do. */
export interface Refusal {
  code: string;
  field: string;
  found: string;
  limit: string;
  todo: string;
}

/**
 * What a movement makes of a stock item. Nothing is taken that is not there. Lengths stay apart: cutting takes one length off
 * the count, and what is left of it is an item of its own, unless it is shorter than `offcutMinimumMm`. Of what is kept for other
 * quotes (`keptForOthers`) nothing is used or cut; but what is lost is lost, and what is counted is there.
 */
export function move(
  item: StockItem,
  asked: MovementIn,
  { offcutMinimumMm, keptForOthers }: { offcutMinimumMm: number; keptForOthers: number },
): Move | Refusal {
  const reason = 'reason' in asked && asked.reason !== undefined ? { reason: asked.reason } : {};
  const quote = 'quote' in asked && asked.quote !== undefined ? { quote: asked.quote } : {};
  const row = (change: number, more: Partial<MovementBody> = {}, kind: MovementKind = asked.kind): Moved => ({
    kind,
    change,
    body: { ...headOf(item), ...reason, ...quote, ...more },
  });
  const after = (change: number): StockItem => ({ ...item, count: item.count + change });
  switch (asked.kind) {
    case 'found':
      return { item: after(asked.count), moved: row(asked.count) };
    case 'counted':
      return { item: after(asked.count - item.count), moved: row(asked.count - item.count) };
    case 'moved':
      return { item: { ...item, place: asked.place }, moved: row(0, { place: asked.place }) };
    case 'lost':
      if (asked.count > item.count) return tooMany(item, asked.count);
      return { item: after(-asked.count), moved: row(-asked.count) };
    case 'used':
      return (
        taken(item, asked.count, keptForOthers) ?? { item: after(-asked.count), moved: row(-asked.count) }
      );
    case 'cut':
      return cut(item, asked, { offcutMinimumMm, keptForOthers }, row);
  }
}

function cut(
  item: StockItem,
  { piecesMm, offcutMm }: Extract<MovementIn, { kind: 'cut' }>,
  { offcutMinimumMm, keptForOthers }: { offcutMinimumMm: number; keptForOthers: number },
  row: (change: number, more: Partial<MovementBody>) => Moved,
): Move | Refusal {
  if (item.form !== 'length')
    return {
      code: 'not-a-length',
      field: 'kind',
      found: 'cut',
      limit: 'pieces',
      todo: `${item.code} is counted and not cut. Use the kind used.`,
    };
  const refusal = taken(item, 1, keptForOthers);
  if (refusal) return refusal;
  const takenMm = piecesMm.reduce((sum, piece) => sum + piece, 0);
  if (takenMm > item.lengthMm)
    return {
      code: 'cut-too-long',
      field: 'piecesMm',
      found: `${takenMm} mm together`,
      limit: `${item.lengthMm} mm`,
      todo: `One length of ${item.code} has ${item.lengthMm} mm. Cut fewer pieces off it, or send a cut for each length.`,
    };
  const left = item.lengthMm - takenMm;
  if (offcutMm !== undefined && offcutMm > left)
    return {
      code: 'offcut-too-long',
      field: 'offcutMm',
      found: `${offcutMm} mm`,
      limit: `${left} mm`,
      todo: `Of ${item.lengthMm} mm no more than ${left} mm can be left after these pieces. Measure again; if the length was longer than it says, correct the stock item first.`,
    };
  const rest = offcutMm ?? left;
  const isKept = rest > 0 && rest >= offcutMinimumMm;
  return {
    item: { ...item, count: item.count - 1 },
    moved: row(-1, { piecesMm, offcutMm: rest }),
    ...(isKept ? { offcut: { lengthMm: rest } } : rest > 0 ? { droppedMm: rest } : {}),
  };
}

/** Why so many cannot be taken of an item. */
function taken(item: StockItem, asked: number, keptForOthers: number): Refusal | undefined {
  if (asked > item.count) return tooMany(item, asked);
  const free = Math.max(0, item.count - keptForOthers);
  if (asked <= free) return undefined;
  return {
    code: 'kept-for-others',
    field: 'count',
    found: String(asked),
    limit: String(free),
    todo: `${item.count} of ${item.code} are there, but ${keptForOthers} of them are kept for other quotes. Take no more than ${free}, state the quote that it is for, or let go of what is kept: GET /v1/stock-reservations?stock=${item.code} says for whom.`,
  };
}

function tooMany({ code, form, count }: StockItem, asked: number): Refusal {
  return {
    code: 'not-so-many',
    field: 'count',
    found: String(asked),
    limit: String(count),
    todo: `There are ${count} ${form === 'length' ? 'lengths' : 'pieces'} of ${code}. Take no more, or count the drawer and send what is there with the kind counted.`,
  };
}

/** What every row says of its item. */
export function headOf(item: StockItem): MovementBody {
  return { part: item.part, ...(item.form === 'length' ? { lengthMm: item.lengthMm } : {}) };
}

/** The code of an offcut: that of the length it comes from, with its own millimetres. */
export function offcutCode({ code }: StockItem, parentMm: number, { lengthMm }: Offcut): string {
  const ownEnd = `-${parentMm}`;
  const root = code.endsWith(ownEnd) ? code.slice(0, -ownEnd.length) : code;
  return `${root.slice(0, LONGEST_ROOT)}-${lengthMm}`;
}

/** The first code of a root that does not stand for something else. */
export function codeAfter(root: string, taken: ReadonlySet<string>): string {
  for (let number = 1; ; number++) {
    const made = number === 1 ? root : `${root}.${number}`;
    if (!taken.has(made)) return made;
  }
}

/** Leaves room for a length and a number behind it. */
const LONGEST_ROOT = 44;
