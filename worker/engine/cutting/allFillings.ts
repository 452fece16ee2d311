import { solveMilp } from '../solver/milp.ts';
import { ModelBuilder, type Entry } from '../solver/model.ts';
import { isShut, type Fill } from './fillings.ts';
import type { Losses } from './losses.ts';
import type { Found, Rest, Search } from './packing.ts';

/**
 * Every filling that can be part of a packing: that loses no more worth than there is to spare, and leaves no more over
 * than the lengths have over in all. Undefined where there are more than `most`.
 */
export function possibleFillings(
  { cutting }: Search,
  { lengths, counts }: Rest,
  { worths, worth, spare }: Losses,
  most: number,
  shutOut: readonly Fill[] = [],
): Fill[] | undefined {
  const filled = cutting.pieces.reduce((sum, { size }, at) => sum + size * (counts[at] ?? 0), 0);
  const room = cutting.stocks.reduce((sum, { size }, stock) => sum + size * (lengths[stock] ?? 0), 0);
  const all: Fill[] = [];
  for (const [stock, { size }] of cutting.stocks.entries()) {
    if (!lengths[stock]) continue;
    const least = { worth: (worth[stock] ?? 0) - spare, size: size - (room - filled) };
    const own = worths.allWorth(stock, least, most - all.length);
    if (!own) return undefined;
    all.push(...own.filter((fill) => !isShut(fill, shutOut)));
  }
  return all;
}

/** Whether a rest is packed by some of these fillings, each any number of times: a whole-number model of them all. */
export async function packedBy(
  fills: readonly Fill[],
  { cutting, control }: Search,
  { lengths, counts }: Rest,
  mostNodes?: number,
): Promise<Found> {
  const builder = new ModelBuilder();
  const columns = fills.map(({ stock, counts: pieces }) => {
    const most = pieces.reduce(
      (times, count, at) => (count > 0 ? Math.max(times, Math.ceil((counts[at] ?? 0) / count)) : times),
      0,
    );
    return builder.column(0, 0, Math.min(lengths[stock] ?? 0, most));
  });
  counts.forEach((count, at) => {
    if (count === 0) return;
    builder.row(
      count,
      Infinity,
      fills.map(({ counts: pieces }, index): Entry => [columns[index] ?? 0, pieces[at] ?? 0]),
    );
  });
  cutting.stocks.forEach((_, stock) => {
    const own = fills.flatMap((fill, index): Entry[] =>
      fill.stock === stock ? [[columns[index] ?? 0, 1]] : [],
    );
    if (own.length > 0) builder.row(-Infinity, lengths[stock] ?? 0, own);
  });
  const answer = await solveMilp(builder.build(), control, mostNodes === undefined ? {} : { mostNodes });
  if (answer.status === 'infeasible') return 'impossible';
  const { values } = answer;
  if (!values) return 'unknown';
  return fills.flatMap((fill, index) => {
    const times = values[columns[index] ?? 0] ?? 0;
    return times > 0 ? [{ fill, times }] : [];
  });
}
