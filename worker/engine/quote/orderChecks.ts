import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { OrderList } from '../model/result.ts';
import { metres } from '../units/length.ts';
import { exactFromAmount } from '../units/money.ts';
import type { Bought } from './purchases.ts';

/** Terms that took no part in choosing the mix, but which an order of it would meet: said before it is sent. */
export function orderChecks(
  job: Job,
  orderLists: readonly OrderList[],
  bought: readonly Bought[],
): Finding[] {
  const offerAt = new Map(job.offers.map(({ code }, index) => [code, index]));
  return [
    ...orderLists.flatMap((list) => supplierChecks(job, list)),
    ...bought.flatMap((line) => offerChecks(offerAt.get(line.offer.code) ?? 0, line)),
  ];
}

function supplierChecks(job: Job, list: OrderList): Finding[] {
  const index = job.suppliers.findIndex((supplier) => supplier.code === list.supplier);
  const supplier = job.suppliers[index];
  const findings: Finding[] = [];
  const where = `supplier ${list.supplier}`;
  const { minimumOrder, handling } = supplier ?? {};
  if (minimumOrder && minimumOrder.currency === job.club.currency) {
    const goods = exactFromAmount(list.goods.amount, list.goods.currency);
    if (goods < exactFromAmount(minimumOrder.amount, minimumOrder.currency))
      findings.push({
        code: 'below-minimum-order',
        severity: 'warning',
        at: pointer(['suppliers', index, 'minimumOrder']),
        where,
        found: `goods of ${list.goods.amount} ${list.goods.currency}`,
        limit: `at least ${minimumOrder.amount} ${minimumOrder.currency}`,
        todo: 'Minimum orders are not counted yet: this supplier may not accept the order. Add to it, or leave the supplier’s offers out.',
      });
  }
  if (handling && Number(handling.amount) > 0)
    findings.push({
      code: 'handling-not-charged',
      severity: 'warning',
      at: pointer(['suppliers', index, 'handling']),
      where,
      found: `handling of ${handling.amount} ${handling.currency}`,
      todo: 'Handling is not counted yet: the true cost is higher by this much.',
    });
  return findings;
}

function offerChecks(index: number, { offer, purchase: { bought } }: Bought): Finding[] {
  const finding = (code: string, field: string, found: string, limit: string, todo: string): Finding => ({
    code,
    severity: 'warning',
    at: pointer(['offers', index, field]),
    where: `offer ${offer.code} of ${offer.supplier}`,
    found,
    limit,
    todo,
  });
  const stock = 'Stock is not counted yet: ask whether there is enough, or take the offer out.';
  if (offer.form === 'metre')
    return bought.form === 'metre' && offer.stockMm !== undefined && bought.lengthMm > offer.stockMm
      ? [
          finding(
            'more-than-stock',
            'stockMm',
            metres(bought.lengthMm),
            `${metres(offer.stockMm)} in stock`,
            stock,
          ),
        ]
      : [];
  if (bought.form !== 'pack') return [];
  const findings: Finding[] = [];
  if (offer.stockPacks !== undefined && bought.packs > offer.stockPacks)
    findings.push(
      finding(
        'more-than-stock',
        'stockPacks',
        `${bought.packs} packs`,
        `${offer.stockPacks} packs in stock`,
        stock,
      ),
    );
  if (bought.packs % offer.stepPacks !== 0)
    findings.push(
      finding(
        'not-in-step',
        'stepPacks',
        `${bought.packs} packs`,
        `a multiple of ${offer.stepPacks}`,
        'Order steps are not counted yet: order the next multiple, which costs more than this quote says.',
      ),
    );
  return findings;
}
