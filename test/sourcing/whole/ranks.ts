import type { Job } from '../../../worker/engine/model/job.ts';
import { cheapest } from './cheapest.ts';
import { judgeOf, onSale, type Bought } from './judge.ts';
import { piecesFor, serves, type Offer } from './onSale.ts';
import { compare, fromDecimal, plus, ratio, times, ZERO, type Ratio } from './ratio.ts';
import { RULES_ON } from './rules.ts';
import { scenariosOf, type Requirement } from './scenarios.ts';
import { usableMm } from './usable.ts';

/** By what equally cheap purchases are told apart, the first before the second before the third. */
export interface Ranks {
  /** Over all requirements, in shares of each; a fixed length counts as the longest on offer, and no more than the need. */
  tooMuch: Ratio;
  /** Millimetres that are bought where fixed lengths are on offer. */
  mm: number;
  parcels: number;
}

/** Ranks of a purchase of a job in which no two needs share an offer, there is one order, and nothing is on the shelf. */
export function ranksOf(job: Job, bought: readonly Bought[]): Ranks {
  const [requirements = []] = scenariosOf(job, RULES_ON);
  let tooMuch = ZERO;
  let mm = 0;
  for (const requirement of requirements) {
    const need = neededOf(requirement);
    const lengths = job.offers.flatMap((offer) =>
      offer.form === 'length' && serves(offer, requirement, RULES_ON) ? [usableMm(offer, RULES_ON)] : [],
    );
    const alike = Math.min(Math.max(0, ...lengths), need);
    const here = bought.filter(({ offer }) => serves(offer, requirement, RULES_ON));
    const counted = here.reduce(
      (sum, { offer, count }) => sum + count * (offer.form === 'length' ? alike : eachOf(offer, requirement)),
      0,
    );
    tooMuch = plus(tooMuch, ratio(BigInt(counted - need), BigInt(need)));
    if (lengths.length > 0)
      mm += here.reduce((sum, { offer, count }) => sum + count * eachOf(offer, requirement), 0);
  }
  return { tooMuch, mm, parcels: new Set(bought.map(({ offer }) => offer.supplier)).size };
}

function neededOf({ rolledUp }: Requirement): number {
  if (rolledUp.kind === 'length') return rolledUp.pieces.reduce((sum, { mm }) => sum + mm, 0);
  return rolledUp.kind === 'count' ? (rolledUp.byWave.at(-1) ?? 0) : 1;
}

/** Pieces in a pack, mm of a length, a mm by the metre. */
function eachOf(offer: Offer, requirement: Requirement): number {
  if (offer.form === 'length') return usableMm(offer, RULES_ON);
  return offer.form === 'metre' ? 1 : piecesFor(offer, requirement);
}

/** Below zero where a comes before b. */
export function compareRanks(a: Ranks, b: Ranks): number {
  return compare(a.tooMuch, b.tooMuch) || b.mm - a.mm || a.parcels - b.parcels;
}

/** The first rank in which two are apart. */
function decidingOf(a: Ranks, b: Ranks): keyof Ranks | undefined {
  if (compare(a.tooMuch, b.tooMuch) !== 0) return 'tooMuch';
  if (a.mm !== b.mm) return 'mm';
  return a.parcels === b.parcels ? undefined : 'parcels';
}

/** Of all purchases of the least cost the ranks of the first, and what the others are told from it by; of each offer so many amounts are tried. All in one currency. */
export function firstOfEqual(job: Job, many: number): { ranks: Ranks; decides: (keyof Ranks)[] } {
  const best = cheapest(job);
  const judge = judgeOf(job);
  const columns = job.offers.map((offer) => ({ offer, counts: onSale(offer, many) }));
  const equals: Ranks[] = [];
  const choose = (index: number, bought: readonly Bought[], goods: Ratio): void => {
    // What the goods cost alone is no more than what they cost delivered.
    if (compare(goods, best.cost) > 0) return;
    const column = columns[index];
    if (!column) {
      const outcome = judge(bought);
      if (!outcome || outcome.unmet > best.unmet || compare(outcome.cost, best.cost) !== 0) return;
      equals.push(ranksOf(job, bought));
      return;
    }
    choose(index + 1, bought, goods);
    for (const count of column.counts)
      choose(
        index + 1,
        [...bought, { offer: column.offer, wave: 1, count }],
        plus(goods, goodsOf(column.offer, count)),
      );
  };
  choose(0, [], ZERO);
  const [first, ...others] = equals.sort(compareRanks);
  if (!first) throw new Error('no purchase that was tried costs as little as the cheapest');
  return { ranks: first, decides: others.flatMap((other) => decidingOf(first, other) ?? []) };
}

/** In minor units, at the first price. */
function goodsOf(offer: Offer, count: number): Ratio {
  const isMetre = offer.form === 'metre';
  const { amount } = isMetre ? offer.pricePerMetre : offer.packPrice;
  return times(fromDecimal(amount), ratio(BigInt(count), isMetre ? 1000n : 1n));
}
