import type { Job } from '../../worker/engine/model/job.ts';

/**
 * The judge of winning prices: every mix of a job of counted parts, tried. It shares nothing with the engine but the job's
 * schema. Every offer is a pack of one part with a stock, prices are whole pence, postage goes by the goods' value.
 */
export interface Mix {
  unmet: number;
  pence: number;
}

const pence = ({ amount }: { amount: string }) => Math.round(Number(amount) * 100);

interface Pack {
  code: string;
  supplier: string;
  part: string;
  packCount: number;
  /** So many packs may be bought, nothing included. */
  amounts: number[];
  /** In ten-thousandths of a penny, by so many packs. */
  cost: (packs: number) => number;
}

/** Ten-thousandths of a penny: what prices may be as fine as. */
const FINE = 10_000;

/** `first`: another first price of the offer named, pence; its breaks in the same proportion, down to 4 decimals of a penny. */
function packsOf(job: Job, change?: { offer: string; first: number }): Pack[] {
  return job.offers.map((offer) => {
    if (offer.form !== 'pack' || offer.stockPacks === undefined) throw new Error('packs with a stock alone');
    const stated = pence(offer.packPrice);
    const scaled = (price: number) =>
      change?.offer === offer.code ? Math.floor((price * FINE * change.first) / stated) : price * FINE;
    const tiers = [
      { from: 1, price: scaled(stated) },
      ...(offer.breaks ?? []).map((at) => ({ from: at.fromPacks, price: scaled(pence(at.packPrice)) })),
    ];
    const amounts = Array.from({ length: offer.stockPacks }, (_, index) => index + 1).filter(
      (packs) => packs >= offer.minimumPacks && packs % offer.stepPacks === 0,
    );
    return {
      code: offer.code,
      supplier: offer.supplier,
      part: offer.part,
      packCount: offer.packCount,
      amounts: [0, ...amounts],
      cost: (packs) => packs * (tiers.findLast(({ from }) => from <= packs)?.price ?? 0),
    };
  });
}

/**
 * The best mix of all that keep to `use`: fewest requirements unmet, then cheapest, in ten-thousandths of a penny. Nothing is
 * bought of a part whose need goes unmet. Undefined where there is no mix.
 */
export function bestMix(job: Job, use: { offer: string; some: boolean }, first?: number): Mix | undefined {
  const packs = packsOf(job, first === undefined ? undefined : { offer: use.offer, first });
  const needs = new Map(
    job.looms.flatMap(({ parts }) => parts.map(({ part, quantity }) => [part, quantity])),
  );
  let best: Mix | undefined;
  const chosen: number[] = [];

  function settle(): void {
    const own = packs.findIndex(({ code }) => code === use.offer);
    if ((chosen[own] ?? 0) > 0 !== use.some) return;
    const got = new Map<string, number>();
    const goods = new Map<string, number>();
    packs.forEach(({ part, supplier, packCount, cost }, index) => {
      const bought = chosen[index] ?? 0;
      if (bought === 0) return;
      got.set(part, (got.get(part) ?? 0) + bought * packCount);
      goods.set(supplier, (goods.get(supplier) ?? 0) + cost(bought));
    });
    let unmet = 0;
    for (const [part, need] of needs) {
      if ((got.get(part) ?? 0) >= need) continue;
      if (got.has(part)) return;
      unmet++;
    }
    let total = 0;
    for (const supplier of job.suppliers) {
      const value = goods.get(supplier.code);
      if (value === undefined) continue;
      if (supplier.minimumOrder && value < pence(supplier.minimumOrder) * FINE) return;
      const bands = supplier.postage?.by === 'value' ? supplier.postage.bands : [];
      const band = bands.findLast(({ fromValue }) => pence(fromValue) * FINE <= value);
      total += value + (band ? pence(band.charge) * FINE : 0);
    }
    if (!best || unmet < best.unmet || (unmet === best.unmet && total < best.pence))
      best = { unmet, pence: total };
  }

  function choose(index: number): void {
    const pack = packs[index];
    if (!pack) return settle();
    for (const amount of pack.amounts) {
      chosen[index] = amount;
      choose(index + 1);
    }
  }

  choose(0);
  return best;
}

/** Whether the best mix with some of the offer is no worse than the best without. */
export function wins(withIt: Mix | undefined, without: Mix | undefined): boolean {
  if (!withIt) return false;
  if (!without) return true;
  return withIt.unmet < without.unmet || (withIt.unmet === without.unmet && withIt.pence <= without.pence);
}
