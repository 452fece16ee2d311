import { pointer, type Finding } from '../../model/finding.ts';
import type { Supplier } from '../../model/supplier.ts';
import { withoutWeight } from '../offered/choices.ts';
import type { Known } from './remarks.ts';

/** Suppliers whose tax or duty is not known: what is bought there may cost more than is said. */
export function customsUnknown({ job, market, sells }: Known): Finding[] {
  return job.suppliers.flatMap((supplier, index): Finding[] => {
    const customs = market.customsOf(supplier);
    if (customs.kind !== 'none' || customs.unknown === undefined || !sells(supplier.code)) return [];
    const { country = '' } = job.club;
    return [
      customs.unknown === 'tax'
        ? taxUnknown(supplier, index, country)
        : laneUnknown(supplier, index, country),
    ];
  });
}

function taxUnknown({ code }: Supplier, index: number, country: string): Finding {
  return {
    code: 'tax-not-known',
    severity: 'warning',
    at: pointer(['suppliers', index, 'pricesInclude']),
    where: `supplier ${code}`,
    found: `prices without tax, and no lane from ${country} to ${country} that states the tax`,
    todo: `No tax is counted there, so its cost is too low. Enter a lane from ${country} to ${country} with the tax percentage.`,
  };
}

function laneUnknown({ code, country: from = '' }: Supplier, index: number, country: string): Finding {
  return {
    code: 'lane-not-known',
    severity: 'warning',
    at: pointer(['suppliers', index, 'country']),
    where: `supplier ${code}`,
    found: `sends from ${from}, and there is no lane from ${from} to ${country}`,
    todo: `No duty, import tax or fee is counted there, so its cost may be too low. Enter the lane from ${from} to ${country}.`,
  };
}

/** Offers of a supplier that posts by weight, of parts whose weight is not known: they count nothing. */
export function weightsMissing({ job, offers: { usable } }: Known): Finding[] {
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const weighing = new Set(
    job.suppliers.filter(({ postage }) => postage?.by === 'weight').map(({ code }) => code),
  );
  const missing = new Map<string, Set<string>>();
  for (const { offer } of usable)
    if (weighing.has(offer.supplier))
      for (const code of withoutWeight(offer, parts))
        missing.set(offer.supplier, (missing.get(offer.supplier) ?? new Set()).add(code));
  return [...missing].map(([supplier, codes]) => ({
    code: 'weight-not-known',
    severity: 'warning',
    at: pointer(['suppliers', job.suppliers.findIndex(({ code }) => code === supplier), 'postage']),
    where: `supplier ${supplier}`,
    found: `${codes.size} of its parts have no weight: ${[...codes].slice(0, 5).join(', ')}${codes.size > 5 ? ', …' : ''}`,
    todo: 'Postage there is by weight, and these parts count as weightless, so the postage may be too low. State their weight: weightG, or gramsPerM for parts sold by length.',
  }));
}
