import type { Job } from '../../../worker/engine/model/job.ts';
import { fromAmount } from '../exactMoney.ts';
import { isUsable, piecesOf, serves, usableMm } from './amounts.ts';
import { sellerOf } from './charges.ts';
import { needsOf, type LengthNeed, type Need } from './needs.ts';
import { RULES_ON } from './rules.ts';

type Offer = Job['offers'][number];

/** So many packs, fixed lengths or kits of an offer, or mm by the metre. */
export interface Bought {
  offer: Offer;
  count: number;
}

/**
 * Judges a purchase as a whole: how many needs it leaves unmet, and its delivered cost; Infinity where it buys what is not
 * accepted or what serves no need that it meets, or where a supplier does not sell for so little.
 */
export function judgeOf(job: Job): (bought: readonly Bought[]) => { unsourced: number; cost: number } {
  const needs = needsOf(job, RULES_ON);
  const sellers = job.suppliers.map((supplier) => sellerOf(supplier, RULES_ON));
  const usable = new Set(job.offers.filter((offer) => isUsable(job, offer, RULES_ON)));
  return (bought) => {
    const met = needs.filter((need) => isMet(need, bought));
    const unsourced = needs.length - met.length;
    const allowed = bought.every(
      ({ offer }) => usable.has(offer) && met.some((need) => serves(offer, need, RULES_ON)),
    );
    if (!allowed) return { unsourced, cost: Infinity };
    const cost = sellers.reduce((total, seller) => {
      const here = bought.filter(({ offer }) => offer.supplier === seller.code);
      if (here.length === 0) return total;
      const goods = here.reduce((sum, one) => sum + costOf(one), 0);
      const weight = here.reduce((sum, { offer, count }) => sum + count * microgramsOf(job, offer), 0);
      return total + goods + seller.charge(goods, weight);
    }, 0);
    return { unsourced, cost };
  };
}

/** The first so many amounts on sale, packs or mm, up to the stock. */
export function onSale(offer: Offer, many: number): number[] {
  const [minimum, step, stock = Infinity] =
    offer.form === 'metre'
      ? [offer.minimumMm, offer.stepMm, offer.stockMm]
      : [offer.minimumPacks, offer.stepPacks, offer.stockPacks];
  const steps = Array.from({ length: 800 }, (_, index) => (index + 1) * step);
  return steps.filter((count) => count >= minimum && count <= stock).slice(0, many);
}

function costOf({ offer, count }: Bought): number {
  if (offer.form === 'metre') {
    const reached = offer.breaks?.filter(({ fromMm }) => count >= fromMm).at(-1);
    return (fromAmount((reached ?? offer).pricePerMetre) / 1000) * count;
  }
  const reached = offer.breaks?.filter(({ fromPacks }) => count >= fromPacks).at(-1);
  return fromAmount((reached ?? offer).packPrice) * count;
}

/** Of a pack, a fixed length, a kit, or a mm. */
function microgramsOf(job: Job, offer: Offer): number {
  const ofOne = (code: string) => {
    const part = job.parts.find((candidate) => candidate.code === code);
    const milligrams = (grams = 0) => Math.round(grams * 1000);
    return part && 'gramsPerM' in part ? milligrams(part.gramsPerM) : 1000 * milligrams(part?.weightG);
  };
  if (offer.form === 'kit')
    return offer.contents.reduce((sum, { part, quantity }) => sum + quantity * ofOne(part), 0);
  if (offer.form === 'metre') return ofOne(offer.part);
  return (offer.form === 'pack' ? offer.packCount : offer.nominalMm) * ofOne(offer.part);
}

function isMet(need: Need, bought: readonly Bought[]): boolean {
  const here = bought.filter(({ offer }) => serves(offer, need, RULES_ON));
  if (need.kind === 'count')
    return (
      here.reduce((sum, { offer, count }) => sum + count * piecesOf(offer, need.part), 0) >= need.quantity
    );
  const lengths = here.flatMap(({ offer, count }) =>
    offer.form === 'length' ? Array<number>(count).fill(usableMm(offer, RULES_ON)) : [count],
  );
  const sum = (list: readonly number[]) => list.reduce((total, mm) => total + mm, 0);
  if (need.joinable) return sum(lengths) >= sum(need.pieces);
  return (
    byOneSupplier(need, here) &&
    (!need.oneMetre || here.filter(({ offer }) => offer.form === 'metre').length <= 1) &&
    fits(need.pieces, lengths)
  );
}

function byOneSupplier(need: LengthNeed, here: readonly Bought[]): boolean {
  return !need.oneSupplier || here.every(({ offer }) => offer.supplier === here[0]?.offer.supplier);
}

/** Whether the pieces can be cut whole out of the lengths, each out of any. */
function fits(pieces: readonly number[], lengths: readonly number[]): boolean {
  const [piece, ...rest] = pieces;
  if (piece === undefined) return true;
  return [...new Set(lengths)].some((mm) => {
    const place = lengths.indexOf(mm);
    return mm >= piece && fits(rest, lengths.with(place, mm - piece));
  });
}
