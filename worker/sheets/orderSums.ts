import type { OrderLine, OrderList } from '../engine/model/result.ts';

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

/** What the supplier's own list comes to: the amounts beside the goods, in its currency. */
export function orderExtras({ postage, handling, tax, rounding, theirs }: OrderList): Sum[] {
  const own = theirs ?? { postage, handling };
  return [
    ['Postage', own.postage.amount],
    ...some('Handling', own.handling.amount),
    ...(theirs ? [] : [...some('Tax', tax?.amount), ...some('Rounding', rounding.amount)]),
  ];
}

/** All sums of an order list: the supplier's, and what comes to it on the way. */
export function orderSums(list: OrderList): Sum[] {
  const { theirs, total } = list;
  const atImport: Sum[] = [
    ...some('Duty', list.duty?.amount),
    ...some('Import tax', list.importTax?.amount),
    ...some('Clearance fee', list.clearance?.amount),
  ];
  if (!theirs)
    return [
      ['Goods', list.goods.amount],
      ...orderExtras(list),
      ...atImport,
      [`Total, ${total.currency}`, total.amount],
    ];
  return [
    [`Goods, ${theirs.currency}`, theirs.goods.amount],
    ...orderExtras(list).map(([label, amount]): Sum => [`${label}, ${theirs.currency}`, amount]),
    [
      `Goods in ${total.currency}, at ${theirs.rate} of ${theirs.on}${theirs.taxTakenOffPercent === undefined ? '' : `, without their ${theirs.taxTakenOffPercent} % tax`}`,
      list.goods.amount,
    ],
    ['Postage', list.postage.amount],
    ...some('Handling', list.handling.amount),
    ...some('Tax', list.tax?.amount),
    ...atImport,
    ...some('Rounding', list.rounding.amount),
    [`Total, ${total.currency}`, total.amount],
  ];
}

function some(label: string, amount: string | undefined): Sum[] {
  return amount === undefined || isZero(amount) ? [] : [[label, amount]];
}
