import { byCode } from '../model/code.ts';
import { addTo } from '../model/group.ts';
import { lastFallingWeight, lastThreshold } from '../sourcing/problem/bands.ts';
import { coversByChoice, limitsOf } from '../sourcing/problem/limits.ts';
import type { Band, Choice } from '../sourcing/problem/problem.ts';
import type { Exact } from '../units/money.ts';
import { sellerOf, type Quoted } from './mix.ts';

/** How far the prices of an offer must fall at the least before a mix with it can cost less than the quote. */
export interface Fall {
  offer: string;
  supplier: string;
  /** Proven, in millionths of its prices. */
  millionths: number;
  /** Not even for nothing. */
  never: boolean;
}

const ALL = 1_000_000;

/**
 * For each offer of which nothing is bought in any order. `forced`: by choice, what no mix with any of it goes below, as
 * `forcedBounds` has it. Where all prices of an offer fall by a share, a mix with it saves at most that share of the
 * dearest line of it that can be worth buying, at the greatest rate of its supplier; what is dearer by more than that stays
 * dearer. How much can be worth buying grows where prices fall, as more is bought to reach a threshold: it is reckoned at
 * the fallen price. The nearest first.
 */
export function fallsOf(quoted: Quoted, forced: readonly Exact[]): Fall[] {
  const { problem, plan } = quoted;
  const byOffer = new Map<string, number[]>();
  problem.choices.forEach(({ offer }, at) => {
    if (sellerOf(problem, at) !== undefined) addTo(byOffer, offer, at);
  });
  const worths = worthsOf(quoted);
  return [...byOffer]
    .filter(([, own]) => own.every((at) => (plan.units[at] ?? 0) === 0))
    .map(([offer, own]): Fall => {
      const lines = own.map((at) => ({ dearer: (forced[at] ?? 0n) - quoted.cost, worth: worths(at) }));
      const millionths = greatest((share) => staysDearer(lines, share));
      return {
        offer,
        supplier: sellerOf(problem, own[0] ?? 0) ?? '',
        millionths,
        never: millionths === ALL,
      };
    })
    .sort((a, b) => a.millionths - b.millionths || byCode(a.offer, b.offer));
}

interface Line {
  /** By how much every mix with it costs more than the quote; below zero where that is not known. */
  dearer: Exact;
  /** What its dearest line costs at the greatest rate, where prices fall so far. Undefined: there is no end to it. */
  worth: (millionths: number) => Exact | undefined;
}

/**
 * Whether no mix with the offer can cost less than the quote after such a fall. A mix may hold it in several orders: then
 * it costs at least the greatest of their bounds, and saves on all of these.
 */
function staysDearer(lines: readonly Line[], millionths: number): boolean {
  return lines.every(({ dearer }) => {
    const saved = lines.filter((other) => other.dearer <= dearer).map(({ worth }) => worth(millionths));
    return saved.every((worth) => worth !== undefined)
      ? dearer * BigInt(ALL) >= saved.reduce((sum, worth) => sum + worth, 0n) * BigInt(millionths)
      : false;
  });
}

/** The greatest share for which it holds, as it holds for all below; 0 where it holds for none. */
function greatest(holds: (millionths: number) => boolean): number {
  if (!holds(0)) return 0;
  if (holds(ALL)) return ALL;
  let [low, high] = [0, ALL];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function worthsOf({ problem }: Quoted): (at: number) => Line['worth'] {
  const covers = coversByChoice(problem.covers);
  return (at) => {
    const choice = problem.choices[at];
    if (!choice) return () => 0n;
    const bands = problem.suppliers[choice.supplier]?.bands ?? [];
    const rate = bands.reduce((most, band) => (band.rate > most ? band.rate : most), 0n);
    const { alone, most } = limitsOf(
      choice,
      { requirements: problem.requirements, covers: covers.get(at) ?? [] },
      bands,
    );
    const worthOf = (units: number) => rate * dearest(choice, units);
    const isPlain = lastThreshold(bands) === 0n && lastFallingWeight(bands) === 0;
    if (isPlain) return () => worthOf(most);
    return (millionths) => {
      // For nothing there would be no end to what a threshold takes, but for the stock.
      if (millionths === ALL) return choice.mostUnits === undefined ? undefined : worthOf(choice.mostUnits);
      const [fallen, scaled] = [fallenBy(choice, millionths), bands.map(inMillionths)];
      const requirements = { requirements: [], covers: [{ each: 1, need: alone }] };
      return worthOf(limitsOf(fallen, requirements, scaled).most);
    };
  };
}

/** What the dearest line of up to so many units costs at the prices as they are. */
function dearest({ tiers, step }: Choice, most: number): Exact {
  return tiers.reduce((dear, { fromUnits, price }, at) => {
    const next = tiers[at + 1];
    const units = next ? Math.min(most, next.fromUnits - step) : most;
    const cost = units < fromUnits ? 0n : price * BigInt(units);
    return cost > dear ? cost : dear;
  }, 0n);
}

/** The choice at its prices after a fall, in millionths of the problem's amounts. */
function fallenBy(choice: Choice, millionths: number): Choice {
  const left = BigInt(ALL - millionths);
  return {
    ...choice,
    serves: [],
    tiers: choice.tiers.map(({ fromUnits, price }) => ({ fromUnits, price: price * left })),
  };
}

function inMillionths(band: Band): Band {
  const all = BigInt(ALL);
  return {
    ...band,
    from: band.from * all,
    below: band.below === undefined ? undefined : band.below * all,
    charge: band.charge * all,
  };
}
