import { pointer, type Finding } from './finding.ts';
import type { OrderGoods, OrderLineState } from './order.ts';
import type { ReturnIn } from './orderEntry.ts';
import type { StockItem } from './stock.ts';

/** So many of a stock item leave the shelf. */
export interface TakenBack {
  item: StockItem;
  count: number;
}

const isByMetre = ({ contents }: OrderGoods) =>
  contents.some((each) => each.form === 'length' && each.lengthMm === undefined);

/** The items that came with a line and can be this part of it. */
function alikeOf(
  each: OrderGoods['contents'][number],
  { contents }: OrderGoods,
  there: readonly StockItem[],
): StockItem[] {
  return there.filter(
    (item) =>
      item.form === each.form &&
      (item.form !== 'length' || each.form !== 'length' || item.lengthMm === each.lengthMm) &&
      // What was merged since has another part; a line with one part has no other.
      (contents.length === 1 || item.part === each.part),
  );
}

/**
 * How many of each stock item so many units of a line were, first of the items that have most. Undefined: not so many are
 * there.
 */
function wantedOf(of: OrderGoods, units: number, there: readonly StockItem[]): TakenBack[] | undefined {
  const left = new Map(there.map((item) => [item.code, item.count]));
  const taken: TakenBack[] = [];
  for (const each of of.contents) {
    let wanted = units * (each.form === 'pieces' ? each.count : 1);
    for (const item of alikeOf(each, of, there).sort((a, b) => b.count - a.count)) {
      const has = left.get(item.code) ?? 0;
      const count = Math.min(wanted, has);
      if (count === 0) continue;
      wanted -= count;
      left.set(item.code, has - count);
      taken.push({ item, count });
    }
    if (wanted > 0) return undefined;
  }
  return taken;
}

/** What leaves the shelf when right goods go back. `there`: the items that came with the line, as they are now. */
export function takenBack(goods: ReturnIn, of: OrderGoods, there: readonly StockItem[]): TakenBack[] {
  if (!isByMetre(of)) return wantedOf(of, goods.count, there) ?? [];
  const item = there.find(({ code }) => code === goods.stock);
  return item ? [{ item, count: goods.count }] : [];
}

/** Why goods cannot go back. `line`: where their line stands; `lines`: how many there are. */
export function returnFaults(
  goods: ReturnIn,
  line: OrderLineState | undefined,
  lines: number,
  of: OrderGoods | undefined,
  there: readonly StockItem[],
): Finding[] {
  const fault = (
    field: keyof ReturnIn,
    code: string,
    found: string,
    limit: string,
    todo: string,
  ): Finding[] => [{ code, severity: 'stop', at: pointer([field]), where: field, found, limit, todo }];
  const { what, count } = goods;
  if (!line || !of)
    return fault(
      'line',
      'unknown-line',
      String(goods.line),
      `1 to ${lines}`,
      `The order has the lines 1 to ${lines}. Use the number that stands on the order list.`,
    );
  if (what !== 'right') {
    const left = line[what] - line.returned[what];
    return count <= left
      ? []
      : fault(
          'count',
          'more-than-came',
          String(count),
          String(left),
          `Of this line ${left} are ${what} and have not gone back. Correct the count, or enter the delivery first.`,
        );
  }
  if (isByMetre(of)) return metreFaults(goods, there, fault);
  if (goods.stock !== undefined)
    return fault(
      'stock',
      'not-by-the-metre',
      goods.stock,
      'left out',
      'This line was not bought by the metre. Leave stock out, and state how many packs, kits or lengths go back.',
    );
  const left = line.arrived - line.returned.right;
  if (count > left)
    return fault(
      'count',
      'more-than-came',
      String(count),
      String(left),
      `Of this line ${left} arrived and have not gone back. Correct the count.`,
    );
  const whole = wholeUnits(of, there, left);
  return count <= whole
    ? []
    : fault(
        'count',
        'used-already',
        String(count),
        String(whole),
        `Of what came on this line, only ${whole} are on the shelf as they came: the rest was used or cut, and cut wire does not go back. Correct the count.`,
      );
}

/** So many whole units of a line are on the shelf as they came. */
function wholeUnits(of: OrderGoods, there: readonly StockItem[], most: number): number {
  const each = of.contents.map((content) => {
    const all = alikeOf(content, of, there).reduce((sum, { count }) => sum + count, 0);
    return Math.floor(all / (content.form === 'pieces' ? content.count : 1));
  });
  let units = Math.min(most, ...each);
  // Two parts of a kit may be of one stock item.
  while (units > 0 && !wantedOf(of, units, there)) units -= 1;
  return units;
}

function metreFaults(
  { stock, count, agreed }: ReturnIn,
  there: readonly StockItem[],
  fault: (field: keyof ReturnIn, code: string, found: string, limit: string, todo: string) => Finding[],
): Finding[] {
  const codes = there.map(({ code }) => code).join(', ');
  if (agreed !== true)
    return fault(
      'what',
      'cut-for-you',
      'right',
      'agreed',
      'Wire by the metre was cut off the reel for you and does not go back. If the supplier takes it all the same, add "agreed": true.',
    );
  const item = there.find(({ code }) => code === stock);
  if (!item)
    return fault(
      'stock',
      'unknown-stock-item',
      stock ?? 'left out',
      codes === '' ? 'nothing' : codes,
      codes === '' ? 'Nothing of this line is on the shelf.' : `State which of these goes back: ${codes}.`,
    );
  return count <= item.count
    ? []
    : fault(
        'count',
        'not-so-many',
        String(count),
        String(item.count),
        `There are ${item.count} lengths of ${item.code}. Correct the count.`,
      );
}
