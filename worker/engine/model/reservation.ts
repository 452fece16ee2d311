import { z } from 'zod';
import { Code, Day } from './code.ts';
import type { FromStock } from './result.ts';
import type { StockItem } from './stock.ts';

/** So many of a stock item. */
export const KeptStock = z
  .strictObject({ stock: Code, count: z.int().min(1) })
  .meta({ id: 'KeptStock', description: 'So many of a stock item.' });
export type KeptStock = z.infer<typeof KeptStock>;

export const Reservation = KeptStock.extend({
  part: Code,
  quote: z.uuid().optional().meta({
    description: 'The quote for which it is kept. Left out: a quote that you may not see.',
  }),
  until: Day.optional().meta({ description: 'The last day on which it is kept. Left out: no end was set.' }),
  at: z.iso.datetime(),
  who: z.string().optional(),
}).meta({ id: 'Reservation', description: 'What is kept on the shelf for an accepted quote.' });
export type Reservation = z.infer<typeof Reservation>;

/** How many of each stock item a result takes. */
export function takenOf(fromStock: readonly Pick<FromStock, 'stock' | 'count'>[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { stock, count } of fromStock) counts.set(stock, (counts.get(stock) ?? 0) + count);
  return counts;
}

/**
 * Why a stock item cannot serve as a quote says: it is gone, it is another thing now, or others took it. `part`: the code that
 * the part of the quote has now. `keptForOthers`: how many are kept for other quotes.
 */
export function whyNotFree(
  { lengthMm }: Pick<FromStock, 'lengthMm'>,
  part: string,
  wanted: number,
  item: StockItem | undefined,
  keptForOthers: number,
): string | undefined {
  if (!item) return 'it is gone';
  if (item.part !== part) return `it is ${item.part} now`;
  const hasMm = item.form === 'length' ? item.lengthMm : undefined;
  if (hasMm !== lengthMm) return hasMm === undefined ? 'it is no length now' : `it has ${hasMm} mm now`;
  const free = item.count - keptForOthers;
  if (free >= wanted) return undefined;
  return `${wanted} are needed, and ${Math.max(0, free)} ${free === 1 ? 'is' : 'are'} free${keptForOthers > 0 ? `; ${keptForOthers} ${keptForOthers === 1 ? 'is' : 'are'} kept for other quotes` : ''}`;
}
