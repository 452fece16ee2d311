import { currencyExponent } from '../units/currency.ts';
import { fraction, fractionOf, ONE, over, plus, roundOf, times, type Fraction } from '../units/fraction.ts';
import { minorToAmount } from '../units/money.ts';
import type { OrderCost, OrderCostItem, OrderCostLine, ReceiptIn, ReceiptLine } from './order.ts';
import type { ChargesIn, OrderEntry } from './orderEntry.ts';
import { arrivedOf, orderedOf } from './orderLines.ts';
import type { OrderLine, OrderList } from './result.ts';

type Money = OrderCostLine['paid'];

const scaleOf = (currency: string) => fraction(10n ** BigInt(currencyExponent(currency) ?? 0));

export const minorOf = ({ amount, currency }: Money): bigint =>
  roundOf(times(fractionOf(amount), scaleOf(currency)));

export const moneyOf = (minor: bigint, currency: string): Money => ({
  amount: minorToAmount(minor, currency),
  currency,
});

type CostedLine = Pick<OrderLine, 'line' | 'bought' | 'cost' | 'theirCost'>;

/** How many times as much a price is with so much percent tax. */
export const withTax = (percent = 0): Fraction => plus(ONE, over(fractionOf(percent), fraction(100n)));

/**
 * What each line cost, to the minor unit. For what no delivery states a price of, the share of the printed cost that falls on
 * it; the shares of one line sum to its cost however it is split over deliveries. What came over the order costs nothing
 * unless a price is stated. `takenOff`: the tax that is taken off the printed prices, percent.
 */
export function costLines(
  lines: readonly CostedLine[],
  receipts: readonly Pick<ReceiptIn, 'lines'>[],
  takenOff?: number,
): OrderCostLine[] {
  return lines.map((line) => {
    const { currency } = line.theirCost ?? line.cost;
    const all = roundOf(over(fraction(minorOf(line.theirCost ?? line.cost)), withTax(takenOff)));
    const { expected, paid } = sharesOf(line, receipts, all);
    return {
      line: line.line,
      quoted: moneyOf(all, currency),
      expected: moneyOf(expected, currency),
      paid: moneyOf(paid, currency),
      difference: moneyOf(paid - expected, currency),
    };
  });
}

/** Of a cost of a whole line: what falls on what came, and what was paid for it, in minor units. */
function sharesOf(
  { line, bought }: CostedLine,
  receipts: readonly Pick<ReceiptIn, 'lines'>[],
  all: bigint,
): { expected: bigint; paid: bigint } {
  const { unit } = orderedOf(bought);
  let came = 0;
  let expected = 0n;
  let paid = 0n;
  for (const each of receipts.flatMap((receipt) => receipt.lines.filter((one) => one.line === line))) {
    const share = shareOf(bought, all, came, arrivedOf(unit, each));
    came += arrivedOf(unit, each);
    expected += share;
    paid += each.paid === undefined ? share : minorOf(each.paid);
  }
  return { expected, paid };
}

/** What of the cost of a whole line falls on so many of its units, of which so many came before. */
function shareOf(bought: OrderLine['bought'], all: bigint, before: number, came: number): bigint {
  const { ordered } = orderedOf(bought);
  const upTo = (units: number) =>
    roundOf(times(fraction(all), fraction(BigInt(Math.min(units, ordered)), BigInt(ordered))));
  return upTo(before + came) - upTo(before);
}

/**
 * What was paid for what a delivery brought on a line, of which so many units came before: goods alone, in the club’s currency,
 * at the rate of the quote.
 */
export function paidForGoods(
  { theirs, total }: Pick<OrderList, 'theirs' | 'total'>,
  { bought, cost }: CostedLine,
  said: ReceiptLine,
  before: number,
): Money {
  const { currency } = total;
  if (said.paid === undefined)
    return moneyOf(shareOf(bought, minorOf(cost), before, arrivedOf(orderedOf(bought).unit, said)), currency);
  const rate = theirs ? fractionOf(theirs.rate) : ONE;
  const scale = over(scaleOf(currency), scaleOf(said.paid.currency));
  return moneyOf(roundOf(times(times(fraction(minorOf(said.paid)), rate), scale)), currency);
}

type Kind = OrderCostItem['kind'];
type Charge = Exclude<keyof ChargesIn, 'rate' | 'note'>;

/** What was said last of each charge. */
function statedOf(entries: readonly OrderEntry[]): Partial<ChargesIn> {
  return Object.assign({}, ...entries.filter(({ kind }) => kind === 'charges')) as Partial<ChargesIn>;
}

/** What is charged by the value of the goods; the rest is charged once. */
const BY_VALUE: readonly Charge[] = ['tax', 'duty', 'importTax'];
const BY_SUPPLIER: readonly Charge[] = ['postage', 'handling', 'tax'];
const CHARGES: readonly Charge[] = ['postage', 'handling', 'tax', 'duty', 'importTax', 'clearance'];

/**
 * What an order cost in whole, in the club’s currency, against what its quote said. What nobody states is as the quote said: of
 * goods and what is charged by their value the share that came, and all of what is charged once. Where all came and nothing is
 * stated, it is the quote’s total to the minor unit. `isGivenUp`: the order is cancelled, and costs what is stated alone.
 */
export function costOf(
  list: OrderList,
  receipts: readonly Pick<ReceiptIn, 'lines'>[],
  entries: readonly OrderEntry[],
  isGivenUp: boolean,
): OrderCost {
  const { currency } = list.total;
  const theirs = list.theirs?.currency ?? currency;
  const stated = statedOf(entries);
  const quotedRate = list.theirs ? fractionOf(list.theirs.rate) : ONE;
  const rate = stated.rate === undefined || !list.theirs ? quotedRate : fractionOf(stated.rate);
  const inOurs = (minor: bigint) =>
    roundOf(times(times(fraction(minor), rate), over(scaleOf(currency), scaleOf(theirs))));
  /** What the quote said at its own rate, at the rate of the bank. */
  const atRate = (minor: bigint) => roundOf(times(fraction(minor), over(rate, quotedRate)));

  const lines = costLines(list.lines, receipts, list.theirs?.taxTakenOffPercent);
  const withoutPrices = receiptsWithoutPrices(receipts);
  const shares = list.lines.map((line) => sharesOf(line, withoutPrices, minorOf(line.cost)));
  const expected = shares.reduce((sum, share) => sum + share.expected, 0n);
  const dearer = lines.reduce((sum, { difference }) => sum + minorOf(difference), 0n);
  const goods = minorOf(list.goods);
  const allCame = expected === goods;
  const byValue = (minor: bigint) =>
    allCame || goods === 0n ? minor : roundOf(times(fraction(minor), fraction(expected, goods)));

  const item = (kind: Kind, quoted: bigint, paid: bigint, isStated: boolean): OrderCostItem => ({
    kind,
    quoted: moneyOf(quoted, currency),
    paid: moneyOf(paid, currency),
    stated: isStated,
  });
  const charges = CHARGES.flatMap((kind): OrderCostItem[] => {
    const quoted = list[kind] ? minorOf(list[kind]) : 0n;
    const said = stated[kind];
    if (said) {
      const minor = minorOf(said);
      return [item(kind, quoted, BY_SUPPLIER.includes(kind) ? inOurs(minor) : minor, true)];
    }
    if (!list[kind]) return [];
    const due = isGivenUp ? 0n : BY_VALUE.includes(kind) ? byValue(quoted) : quoted;
    return [item(kind, quoted, BY_SUPPLIER.includes(kind) ? atRate(due) : due, false)];
  });
  const rounding = minorOf(list.rounding);
  const refunds = entries.filter((entry) => entry.kind === 'refund');
  const returns = entries.filter((entry) => entry.kind === 'return');
  const refunded = refunds.reduce((sum, { refund }) => sum + minorOf(refund), 0n);
  const sentBack = returns.reduce((sum, { postage }) => sum + (postage ? minorOf(postage) : 0n), 0n);
  const items = [
    item('goods', goods, atRate(expected) + inOurs(dearer), hasPrices(receipts) || stated.rate !== undefined),
    ...charges,
    ...(rounding === 0n ? [] : [item('rounding', rounding, allCame ? rounding : 0n, false)]),
    ...(refunds.length === 0 ? [] : [item('refunds', 0n, -inOurs(refunded), true)]),
    ...(sentBack === 0n ? [] : [item('returnPostage', 0n, sentBack, true)]),
  ];
  const paid = items.reduce((sum, each) => sum + minorOf(each.paid), 0n);
  const quoted = minorOf(list.total);
  const fees = refunds.reduce((sum, { fee }) => sum + (fee ? minorOf(fee) : 0n), 0n);
  return {
    lines,
    items,
    restockingFees: moneyOf(fees, theirs),
    quoted: list.total,
    paid: moneyOf(paid, currency),
    difference: moneyOf(paid - quoted, currency),
  };
}

const hasPrices = (receipts: readonly Pick<ReceiptIn, 'lines'>[]) =>
  receipts.some(({ lines }) => lines.some(({ paid }) => paid !== undefined));

const receiptsWithoutPrices = (receipts: readonly Pick<ReceiptIn, 'lines'>[]) =>
  receipts.map(({ lines }) => ({ lines: lines.map(({ paid: _paid, ...line }) => line) }));

/** What the supplier was paid for an order at the most, in its currency: no more can be refunded. */
export function paidToSupplier(
  list: OrderList,
  receipts: readonly Pick<ReceiptIn, 'lines'>[],
  entries: readonly OrderEntry[],
): bigint {
  const stated = statedOf(entries);
  const own = list.theirs ?? list;
  const charge = (said: Money | undefined, quoted: Money | undefined) => {
    const money = said ?? quoted;
    return money ? minorOf(money) : 0n;
  };
  const lines = costLines(list.lines, receipts, list.theirs?.taxTakenOffPercent);
  const goods = lines.reduce((sum, { quoted, paid }) => {
    const [all, was] = [minorOf(quoted), minorOf(paid)];
    return sum + (was > all ? was : all);
  }, 0n);
  return (
    goods +
    charge(stated.postage, own.postage) +
    charge(stated.handling, own.handling) +
    charge(stated.tax, list.theirs ? undefined : list.tax)
  );
}
