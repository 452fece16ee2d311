import type { OrderLine, OrderList } from '../engine/model/result.ts';
import { summed } from './money.ts';

type Sum = [label: string, amount: string];

const isZero = (amount: string) => Number(amount) === 0;

/** What names a list among a quote's: the supplier, and the order where there are several. */
export function orderName({ supplier, wave }: OrderList): string {
  return wave === undefined ? `order-${supplier}` : `order-${supplier}-${wave}`;
}

/** The currency in which the supplier is paid. */
export function orderCurrency(list: OrderList): string {
  return list.theirs?.currency ?? list.total.currency;
}

/** What a line comes to in that currency. */
export function lineAmount({ cost, theirCost }: OrderLine): string {
  return (theirCost ?? cost).amount;
}

/** What the supplier's own invoice adds to the goods, in its currency. */
export function orderExtras({ postage, handling, tax, theirs }: OrderList): Sum[] {
  const own = theirs ?? { postage, handling };
  return [
    ['Postage', own.postage.amount],
    ...some('Handling', own.handling.amount),
    ...(theirs ? [] : some('Tax', tax?.amount)),
  ];
}

/**
 * The sums of an order list as the supplier's invoice has them, in its currency. What customs and carriers charge, and what
 * rounding makes of it, stand in the quote.
 */
export function orderSums(list: OrderList): Sum[] {
  const currency = orderCurrency(list);
  const goods: Sum = ['Goods', (list.theirs ?? list).goods.amount];
  const all = [goods, ...orderExtras(list)];
  const total = summed(
    all.map(([, amount]) => amount),
    currency,
  );
  return [...all, [`Total, ${currency}`, total]];
}

/** What the supplier is asked to leave out of these prices; nothing where that is nothing. */
export function taxWords({ theirs }: OrderList): string[] {
  return theirs?.taxTakenOffPercent === undefined
    ? []
    : [
        `These prices include ${theirs.taxTakenOffPercent} % tax. Please take it off: the goods leave your country.`,
      ];
}

/** What comes to the supplier's invoice on the way, in the club's currency, for the buyer. */
export function importSums(list: OrderList): Sum[] {
  const { theirs, total } = list;
  return [
    ...(theirs
      ? [
          [`Goods at ${theirs.rate}, the rate of ${theirs.on}`, list.goods.amount] as Sum,
          ['Postage', list.postage.amount] as Sum,
          ...some('Handling', list.handling.amount),
          ...some('Tax', list.tax?.amount),
        ]
      : []),
    ...some('Duty', list.duty?.amount),
    ...some('Import tax', list.importTax?.amount),
    ...some('Clearance fee', list.clearance?.amount),
    ...(theirs ? [[`Total with rounding, ${total.currency}`, total.amount] as Sum] : []),
  ];
}

function some(label: string, amount: string | undefined): Sum[] {
  return amount === undefined || isZero(amount) ? [] : [[label, amount]];
}
