import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Supplier } from '../model/supplier.ts';
import type { Exchange } from '../model/exchange.ts';
import { customsOf, laneCurrencies } from './lanes.ts';

/** A supplier from whom nothing can be bought, whatever it offers: shut out, or with a currency or lane that has no rate. */
export function supplierOut(
  job: Job,
  supplier: Supplier,
  exchange: Exchange,
): { why: string; finding: Finding } | undefined {
  const index = job.suppliers.indexOf(supplier);
  const shut = (job.request.shutOut ?? []).indexOf(supplier.code);
  if (shut >= 0)
    return {
      why: `its supplier ${supplier.code} is in shutOut`,
      finding: {
        code: 'supplier-shut-out',
        severity: 'note',
        at: pointer(['request', 'shutOut', shut]),
        where: `supplier ${supplier.code}`,
        found: 'excluded from this quote by shutOut',
        todo: 'Nothing is bought there. Remove it from shutOut to use its offers.',
      },
    };
  const customs = customsOf(job, supplier);
  const lane = customs.kind === 'none' ? undefined : customs.lane;
  const currency = [supplier.currency, ...(lane ? laneCurrencies(lane) : [])].find(
    (code) => exchange.toClub(code) === undefined,
  );
  if (currency === undefined) return undefined;
  const isOwn = currency === supplier.currency;
  return {
    why: `there is no rate for ${currency}`,
    finding: {
      code: 'currency-without-rate',
      severity: 'warning',
      at: isOwn
        ? pointer(['suppliers', index, 'currency'])
        : pointer(['lanes', lane ? job.lanes.indexOf(lane) : 0]),
      where: isOwn ? `supplier ${supplier.code}` : `supplier ${supplier.code}, lane ${lane?.code ?? ''}`,
      found: `${currency}, for which there is no rate on ${job.asOf}`,
      limit: `a rate to the club’s currency, ${job.club.currency}, for that day or earlier`,
      todo: `Nothing is bought there. Enter what one ${currency} is worth in ${job.club.currency}, with its day, in the rates.`,
    },
  };
}
