import { colourWords, shadeWords } from '../model/colour.ts';
import type { Job } from '../model/job.ts';
import type { Part } from '../model/part.ts';
import type { CostLine, OrderLine, OrderList } from '../model/result.ts';
import type { Problem } from '../sourcing/problem.ts';
import type { SupplierShare } from '../sourcing/pricing.ts';
import { minorToAmount, toMinor } from '../units/money.ts';
import type { Bought } from './purchases.ts';

/** One order list a supplier, by code: printed lines, postage, and the rounding that makes them sum to the total. */
export function orderListsOf(
  job: Job,
  problem: Problem,
  shares: readonly SupplierShare[],
  bought: readonly Bought[],
): OrderList[] {
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const names = new Map(job.suppliers.map((supplier) => [supplier.code, supplier.name]));
  return shares.map((share) => {
    const supplier = problem.suppliers[share.supplier]?.code ?? '';
    const own = bought.filter(({ offer }) => offer.supplier === supplier);
    const goods = own.reduce((sum, { exact }) => sum + toMinor(exact), 0n);
    const postage = toMinor(share.postage);
    const total = toMinor(share.goods + share.postage);
    return {
      supplier,
      name: names.get(supplier) ?? supplier,
      lines: own.map((line, index) => orderLine(line, index + 1, parts.get(line.offer.part))),
      goods: money(goods),
      postage: money(postage),
      rounding: money(total - goods - postage),
      total: money(total),
    };
  });
}

function orderLine({ purchase, offer }: Bought, line: number, part: Part | undefined): OrderLine {
  const colour = part && colourOf(part);
  return {
    line,
    requirement: purchase.requirement,
    offer: offer.code,
    ...(offer.supplierCode === undefined ? {} : { supplierCode: offer.supplierCode }),
    description: offer.description ?? part?.description ?? offer.part,
    ...(colour === undefined ? {} : { colour }),
    bought: purchase.bought,
    oneContinuousLength: offer.form === 'metre',
    condition: offer.condition,
    ...(offer.seenOn === undefined ? {} : { seenOn: offer.seenOn }),
    cost: purchase.cost,
  };
}

function colourOf(part: Part): string | undefined {
  if (part.kind === 'wire') return colourWords(part.colour);
  return 'shade' in part && part.shade !== undefined ? shadeWords(part.shade) : undefined;
}

/** The same money as cost lines: goods of each supplier, its postage where it charges by value, its rounding. */
export function costLinesOf(orderLists: readonly OrderList[], problem: Problem): CostLine[] {
  const charging = new Set(
    problem.suppliers.filter(({ bands }) => bands.length > 0).map((supplier) => supplier.code),
  );
  return orderLists.flatMap(({ supplier, name, goods, postage, rounding }) => {
    const lines: CostLine[] = [{ kind: 'goods', supplier, label: `Goods from ${name}`, amount: goods }];
    if (charging.has(supplier))
      lines.push({ kind: 'postage', supplier, label: `Postage of ${name}`, amount: postage });
    if (Number(rounding.amount) !== 0)
      lines.push({ kind: 'rounding', supplier, label: `Rounding, ${name}`, amount: rounding });
    return lines;
  });
}
