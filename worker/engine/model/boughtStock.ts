import { countedLengths } from './orderGoods.ts';
import type { MovementBody, MovementKind } from './movement.ts';
import type { OrderGoods, OrderLineState, OrderState } from './order.ts';
import { codeAfter } from './shelfMove.ts';
import type { StockItem } from './stock.ts';

/** An order as the rest of its quote sees it. */
export interface OrderOnItsWay {
  number: number;
  state: OrderState;
  supplierName: string;
  goods: readonly OrderGoods[];
  lines: readonly OrderLineState[];
}

/** What was taken off the shelf for the looms of a quote. */
export interface TakenFor {
  kind: MovementKind;
  change: number;
  body: MovementBody;
}

/**
 * What is bought for the looms of a quote and is not on the shelf, as stock: what is on its way, and what is cut or built in
 * already. What was cut counts as the pieces that it was cut into. `taken`: the codes of the stock that there is.
 */
export function boughtStock(
  orders: readonly OrderOnItsWay[],
  used: readonly TakenFor[],
  taken: readonly string[],
): StockItem[] {
  const codes = new Set(taken);
  const items: StockItem[] = [];
  const add = (root: string, place: string, item: Bought) => {
    const code = codeAfter(root.slice(0, LONGEST_ROOT), codes);
    codes.add(code);
    items.push({ code, place, ...item });
  };
  for (const { number, state, supplierName, goods, lines } of orders) {
    if (state === 'closed' || state === 'cancelled') continue;
    for (const { line, outstanding, unit } of lines)
      for (const each of goods.find((one) => one.line === line)?.contents ?? []) {
        if (outstanding === 0) continue;
        const root = `coming-${number}-${line}`;
        const place = `on its way: order ${number} from ${supplierName}`.slice(0, LONGEST_PLACE);
        if (each.form === 'pieces')
          add(root, place, { form: 'pieces', part: each.part, count: each.count * outstanding });
        else
          add(root, place, {
            form: 'length',
            part: each.part,
            lengthMm: each.lengthMm ?? outstanding,
            count: unit === 'mm' ? 1 : outstanding,
          });
      }
  }
  for (const { kind, change, body } of used) {
    const place = kind === 'cut' ? 'cut already' : 'built in already';
    const { part, lengthMm, piecesMm = [] } = body;
    if (kind === 'cut')
      for (const alike of countedLengths(piecesMm))
        add(`cut-${part}-${alike.lengthMm}`, place, { form: 'length', part, ...alike });
    else if (change < 0)
      add(
        `used-${part}`,
        place,
        lengthMm === undefined
          ? { form: 'pieces', part, count: -change }
          : { form: 'length', part, lengthMm, count: -change },
      );
  }
  return items;
}

/**
 * What a code stands for that was given here: a line of an order by the order’s number, or what is taken already. Undefined for
 * a code of another form.
 */
export function boughtAs(code: string): { order: number; line: number } | 'taken' | undefined {
  const [, order, line] = /^coming-(\d+)-(\d+)(?:\.\d+)?$/.exec(code) ?? [];
  if (order !== undefined) return { order: Number(order), line: Number(line) };
  return /^(cut|used)-/.test(code) ? 'taken' : undefined;
}

type Bought = { part: string; count: number } & ({ form: 'pieces' } | { form: 'length'; lengthMm: number });

const LONGEST_ROOT = 56;
const LONGEST_PLACE = 200;
