import type { Job } from '../../../worker/engine/model/job.ts';
import { checked, fromAmount } from '../exactMoney.ts';
import { amountsOf, isUsable, piecesOf, serves, usableMm } from './amounts.ts';
import { sellerOf } from './charges.ts';
import type { Outcome } from './cheapest.ts';
import { needsOf, type LengthNeed, type Need } from './needs.ts';
import { RULES_ON } from './rules.ts';

type Offer = Job['offers'][number];
interface Bought {
  offer: Offer;
  count: number;
}

/**
 * The same optimum with no short cut whatever: each offer at each of the amounts that the brute force tries and at some
 * more above them, or not at all, every one of these purchases judged as a whole. Undefined where there are too many.
 */
export function naive(job: Job, above: number, mostPurchases: number): Outcome | undefined {
  const needs = needsOf(job, RULES_ON);
  const sellers = job.suppliers.map((supplier) => sellerOf(supplier, RULES_ON));
  const columns = job.offers.flatMap((offer) => {
    const seller = sellers.find(({ code }) => code === offer.supplier);
    if (!seller || !isUsable(job, offer, RULES_ON)) return [];
    const tried = amountsOf(job, offer, needs, seller, RULES_ON, 'all').length + above;
    return [{ offer, counts: countsOf(offer).slice(0, tried) }];
  });
  if (columns.reduce((many, { counts }) => many * (counts.length + 1), 1) > mostPurchases) return undefined;

  let best = { unsourced: Infinity, cost: Infinity };
  const judge = (bought: readonly Bought[]) => {
    const met = needs.filter((need) => isMet(need, bought));
    const forSomething = bought.every(({ offer }) => met.some((need) => serves(offer, need, RULES_ON)));
    const unsourced = needs.length - met.length;
    if (!forSomething || unsourced > best.unsourced) return;
    const cost = sellers.reduce((total, seller) => {
      const here = bought.filter(({ offer }) => offer.supplier === seller.code);
      if (here.length === 0) return total;
      const goods = here.reduce((sum, one) => sum + costOf(one), 0);
      const weight = here.reduce((sum, { offer, count }) => sum + count * microgramsOf(job, offer), 0);
      return total + goods + seller.charge(goods, weight);
    }, 0);
    if (cost < Infinity && (unsourced < best.unsourced || cost < best.cost)) best = { unsourced, cost };
  };
  const choose = (index: number, bought: readonly Bought[]): void => {
    const column = columns[index];
    if (!column) return judge(bought);
    choose(index + 1, bought);
    for (const count of column.counts) choose(index + 1, [...bought, { offer: column.offer, count }]);
  };
  choose(0, []);
  return { unsourced: best.unsourced, cost: BigInt(checked(best.cost)) };
}

/** The first amounts on sale, packs or mm, up to the stock. */
function countsOf(offer: Offer): number[] {
  const [minimum, step, stock = Infinity] =
    offer.form === 'metre'
      ? [offer.minimumMm, offer.stepMm, offer.stockMm]
      : [offer.minimumPacks, offer.stepPacks, offer.stockPacks];
  const steps = Array.from({ length: 800 }, (_, index) => (index + 1) * step);
  return steps.filter((count) => count >= minimum && count <= stock);
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
    here.filter(({ offer }) => offer.form === 'metre').length <= 1 &&
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
