import type { OrderGoods, ReceiptLine } from './order.ts';
import type { Leftover, OrderList, Purchase, Result } from './result.ts';

/** What one unit of each line of an order list is, by the purchases of its quote, and how much of the line its looms need. */
export function goodsOf(
  { supplier, wave, lines }: Pick<OrderList, 'supplier' | 'wave' | 'lines'>,
  { purchases, leftovers, cuttingPlans }: Pick<Result, 'purchases' | 'leftovers' | 'cuttingPlans'>,
): OrderGoods[] {
  const spare = sparesOf(purchases, leftovers);
  return lines.map(({ line, offer, requirement }): OrderGoods => {
    const purchase = purchases.find(
      (one) =>
        one.supplier === supplier &&
        one.wave === wave &&
        one.offer === offer &&
        one.requirement === requirement,
    );
    if (!purchase) throw new Error('every line of an order list is a purchase');
    const { part, bought } = purchase;
    switch (bought.form) {
      case 'pack': {
        const needed = bought.pieces - spare(purchase, part);
        return { line, contents: [{ part, form: 'pieces', count: bought.packCount, needed }] };
      }
      case 'length': {
        const plan = cuttingPlans.find((one) => one.requirement === requirement);
        const cut = plan?.lengths.filter(
          (one) => one.offer === offer && one.wave === wave && one.pieces.length > 0,
        );
        const needed = cut ? cut.reduce((sum, { lengths }) => sum + lengths, 0) : bought.packs;
        return { line, contents: [{ part, form: 'length', lengthMm: bought.usableMm, needed }] };
      }
      case 'metre':
        return { line, contents: [{ part, form: 'length' }] };
      case 'kit':
        return {
          line,
          contents: bought.contents.map(({ part, quantity }) => ({
            part,
            form: 'pieces',
            count: quantity,
            needed: quantity * bought.packs - spare(purchase, part),
          })),
        };
    }
  });
}

/**
 * How many pieces of a part in a purchase are left over by the quote: of several purchases for one need the last are left over
 * first.
 */
function sparesOf(
  purchases: readonly Purchase[],
  leftovers: readonly Leftover[],
): (purchase: Purchase, part: string) => number {
  const left = new Map<string, number>();
  for (const { requirement, surplus } of leftovers)
    left.set(requirement, (left.get(requirement) ?? 0) + (surplus.quantity ?? 0));
  const spares = new Map<Purchase, Map<string, number>>();
  for (const purchase of [...purchases].reverse()) {
    const own = new Map<string, number>();
    for (const { part, pieces, need } of piecesOf(purchase)) {
      const spare = Math.min(pieces, left.get(need) ?? 0);
      left.set(need, (left.get(need) ?? 0) - spare);
      own.set(part, (own.get(part) ?? 0) + spare);
    }
    spares.set(purchase, own);
  }
  return (purchase, part) => spares.get(purchase)?.get(part) ?? 0;
}

/** Pieces that a purchase brings, by part, with the id of the need under which they are left over. */
function piecesOf({ requirement, part, bought }: Purchase): { part: string; pieces: number; need: string }[] {
  if (bought.form === 'pack') return [{ part, pieces: bought.pieces, need: requirement }];
  if (bought.form !== 'kit') return [];
  return bought.contents.map(({ part: one, quantity }) => ({
    part: one,
    pieces: quantity * bought.packs,
    need: one === part ? requirement : `part:${one}`,
  }));
}

/** How many of what so many units of a line bring are needed: in turn, until the need is met. */
function neededBetween({ needed = 0 }: { needed?: number }, each: number, before: number, came: number) {
  const upTo = (units: number) => Math.min(needed, units * each);
  return upTo(before + came) - upTo(before);
}

/** Lengths that are equal, together. */
export function countedLengths(lengthsMm: readonly number[]): { lengthMm: number; count: number }[] {
  const counts = new Map<number, number>();
  for (const length of lengthsMm) counts.set(length, (counts.get(length) ?? 0) + 1);
  return [...counts].map(([lengthMm, count]) => ({ lengthMm, count }));
}

/** What a delivery puts on the shelf of a line, of which so many units came before. What is bought by the metre is needed. */
export function shelvedOf(
  { contents }: OrderGoods,
  { arrived, lengthsMm }: Pick<ReceiptLine, 'arrived' | 'lengthsMm'>,
  before: number,
): Shelved[] {
  return contents.flatMap((each): Shelved[] => {
    const { part } = each;
    if (each.form === 'pieces' && arrived > 0)
      return [
        {
          form: 'pieces',
          part,
          count: each.count * arrived,
          needed: neededBetween(each, each.count, before, arrived),
        },
      ];
    if (each.form === 'pieces') return [];
    const { lengthMm } = each;
    if (lengthMm !== undefined && arrived > 0)
      return [
        { form: 'length', part, lengthMm, count: arrived, needed: neededBetween(each, 1, before, arrived) },
      ];
    return countedLengths(lengthsMm).map((alike) => ({
      form: 'length',
      part,
      ...alike,
      needed: alike.count,
    }));
  });
}

/** What goes on the shelf; so many of it are needed for the looms of the quote. */
export type Shelved = { part: string; count: number; needed: number } & (
  { form: 'pieces' } | { form: 'length'; lengthMm: number }
);
