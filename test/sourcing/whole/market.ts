import type { Job } from '../../../worker/engine/model/job.ts';
import { fromDecimal, lcm, plus, ONE, share, type Ratio } from './ratio.ts';
import type { Mix } from './mix.ts';
import { waveOf } from './requirements.ts';
import type { Rules } from './rules.ts';
import { sellerOf, type Seller } from './sellers.ts';

/** The suppliers of a job, a parcel of each in each order, and what mixes of parcels cost: whole numbers of one scale. */
export interface Market {
  sellers: Seller[];
  waves: number;
  parcels: number;
  parcelOf(seller: number, wave: number): number;
  /** So many of the scale to one unit of the club's currency. */
  scale: bigint;
  /** What so many fine units of goods cost at the least. */
  leastOf(seller: number, costs: number): bigint;
  /** What the parcels of a mix cost at the least beside their goods. */
  onceOf(mix: Mix): bigint;
  /** The suppliers of a mix, by place. */
  usedBy(mix: Mix): Set<number>;
  /** Whether there are no more suppliers than allowed. */
  isAllowed(mix: Mix): boolean;
  /** What a mix costs; undefined where a supplier does not sell so. */
  costOf(mix: Mix): bigint | undefined;
}

export function marketOf(job: Job, rules: Rules): Market {
  const sellers = job.suppliers.map((supplier) => sellerOf(job, supplier, rules));
  const waves = Math.max(...job.request.looms.map((line) => waveOf(line, rules)));
  const scale = scaleOf(job);
  const scaled = ({ n, d }: Ratio) => {
    if (scale % d !== 0n) throw new RangeError(`a cost of ${n}/${d} is not whole on the scale`);
    return n * (scale / d);
  };
  const perUnit = sellers.map(({ least }) => scaled(least.perUnit));
  const once = sellers.map(({ least }) => scaled(least.once));
  const known = sellers.map(() => new Map<string, bigint | undefined>());
  const most = (rules.atMostSuppliers ? job.request.atMostSuppliers : undefined) ?? Infinity;

  const costOfParcel = (place: number, goods: number, weight: number) => {
    const key = `${goods} ${weight}`;
    const memory = known[place];
    if (memory?.has(key)) return memory.get(key);
    const cost = sellers[place]?.delivered(goods, weight);
    const value = cost && scaled(cost);
    memory?.set(key, value);
    return value;
  };
  const usedBy = (mix: Mix) =>
    new Set(mix.used.flatMap((used, parcel) => (used ? [Math.floor(parcel / waves)] : [])));
  return {
    sellers,
    waves,
    parcels: sellers.length * waves,
    parcelOf: (seller, wave) => seller * waves + wave - 1,
    scale,
    leastOf: (seller, costs) => (perUnit[seller] ?? 0n) * BigInt(costs),
    onceOf: (mix) =>
      mix.used.reduce(
        (sum, used, parcel) => (used ? sum + (once[Math.floor(parcel / waves)] ?? 0n) : sum),
        0n,
      ),
    usedBy,
    isAllowed: (mix) => most === Infinity || usedBy(mix).size <= most,
    costOf: (mix) => {
      let total = 0n;
      for (const [parcel, used] of mix.used.entries()) {
        if (!used) continue;
        const place = Math.floor(parcel / waves);
        if (mix.loose[parcel] && (!rules.overbuying || (sellers[place]?.minimumOrder ?? 0) > 0))
          return undefined;
        const cost = costOfParcel(place, mix.goods[parcel] ?? 0, mix.weights[parcel] ?? 0);
        if (cost === undefined) return undefined;
        total += cost;
      }
      return total;
    },
  };
}

/** Prices to 10 decimals, rates to 8, duty and tax to 6, and what the sellers' taxes divide by. */
function scaleOf(job: Job): bigint {
  const divisors = job.lanes.map((lane) => plus(ONE, share(lane.sellerTaxPercent)).n);
  return divisors.reduce(lcm, fromDecimal(`1${'0'.repeat(10 + 8 + 12)}`).n);
}
