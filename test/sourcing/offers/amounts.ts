import type { Job } from '../../../worker/engine/model/job.ts';
import { checked, fromAmount, share } from '../exactMoney.ts';
import { GRAM, type Seller } from './charges.ts';
import type { Need } from './needs.ts';
import { leftOver } from './packing.ts';
import type { Rules } from './rules.ts';

type Offer = Job['offers'][number];
type Packed = Exclude<Offer, { form: 'metre' }>;
type Metre = Extract<Offer, { form: 'metre' }>;

/** An amount of an offer that may be bought: packs, lengths or kits, or mm by the metre; what it costs and weighs. */
export interface Amount {
  count: number;
  costs: number;
  weight: number;
}

/** Whether the offer may be bought at all. */
export function isUsable(job: Job, offer: Offer, rules: Rules): boolean {
  const accepted = job.request.settings?.conditionsAccepted ??
    job.club.settings.conditionsAccepted ?? ['new', 'oldStock', 'reproduction'];
  return (!rules.conditions || accepted.includes(offer.condition)) && (rules.kits || offer.form !== 'kit');
}

/** Whether the offer can do something for the need. A length into which no piece fits is not bought, not even to reach a value. */
export function serves(offer: Offer, need: Need, rules: Rules): boolean {
  if (need.kind === 'count') return piecesOf(offer, need.part) > 0;
  if (!('part' in offer) || offer.part !== need.part || offer.form === 'pack') return false;
  const shortest = need.joinable ? 1 : Math.min(...need.pieces);
  if (offer.form === 'length') return usableMm(offer, rules) >= shortest;
  const stock = rules.stock ? (offer.stockMm ?? Infinity) : Infinity;
  return Math.floor(stock / offer.stepMm) * offer.stepMm >= shortest;
}

/** What can be cut from one fixed length, mm. */
export function usableMm(offer: Extract<Offer, { form: 'length' }>, rules: Rules): number {
  // A percentage has at most 4 decimals.
  const kept = rules.tolerance ? 1_000_000 - Math.round(offer.tolerancePercent * 10_000) : 1_000_000;
  return Math.floor(checked(offer.nominalMm * kept) / 1_000_000) - (rules.endLoss ? offer.endLossMm : 0);
}

/**
 * Every amount of an offer that needs trying, rising. The ladder ends at the first amount that (1) is at its last break
 * or above, (2) by itself meets all that the offer could serve of the needs, (3) by itself brings the supplier to every
 * value that matters there (`values` all: minimum order and the last band or free threshold; minimum: only the minimum
 * order), or costs nothing, and (4) weighs as much as the last band that charges less than the one before.
 *
 * Nothing cheaper lies above: a mix with more of this offer may take this amount instead. The needs are still met, its
 * units keep their price, so the goods cost no more; the supplier's goods stay above every value that matters, so what
 * it charges by value is the same; the weight falls, by (4) never to a dearer band. With `minimum` breaks do not count
 * and the cost may be higher, but what can be met can be met by these amounts.
 */
export function amountsOf(
  job: Job,
  offer: Offer,
  needs: readonly Need[],
  seller: Seller,
  rules: Rules,
  values: 'all' | 'minimum',
): Amount[] {
  const weighed = weightOfOne(job, offer);
  const lastBreak = values === 'all' ? Math.max(0, ...startsOf(offer, rules).map(({ from }) => from)) : 0;
  const value = values === 'all' ? seller.lastValue : seller.minimumOrder;
  const lastFall = values === 'all' ? seller.lastFall : 0;
  const amounts: Amount[] = [];
  for (const count of counts(offer, rules)) {
    const costs = checked(count * priceAt(offer, count, rules));
    const weight = checked(count * weighed);
    amounts.push({ count, costs, weight });
    if (amounts.length > 700) throw new Error(`${offer.code} has too many amounts to try`);
    const valuable = costs >= value || costs === 0;
    const heavy = weight >= lastFall || weighed === 0;
    if (count >= lastBreak && valuable && heavy && meetsAlone(offer, count, needs, rules)) break;
  }
  return amounts;
}

function* counts(offer: Offer, rules: Rules): Generator<number> {
  const [minimum, step, stock] =
    offer.form === 'metre'
      ? [offer.minimumMm, offer.stepMm, offer.stockMm]
      : [
          rules.minimumPacks ? offer.minimumPacks : 1,
          rules.stepPacks ? offer.stepPacks : 1,
          offer.stockPacks,
        ];
  const most = rules.stock ? (stock ?? Infinity) : Infinity;
  for (let count = Math.ceil(minimum / step) * step; count <= most; count += step) yield count;
}

/** Prices of one pack, or of one mm, with the count from which each holds. */
function startsOf(offer: Offer, rules: Rules): { from: number; price: number }[] {
  if (!rules.breaks) return [];
  return offer.form === 'metre' ? metreBreaks(offer) : packBreaks(offer);
}

const metreBreaks = (offer: Metre) =>
  (offer.breaks ?? []).map((entry) => ({
    from: entry.fromMm,
    price: share(fromAmount(entry.pricePerMetre), 1000),
  }));
const packBreaks = (offer: Packed) =>
  (offer.breaks ?? []).map((entry) => ({ from: entry.fromPacks, price: fromAmount(entry.packPrice) }));

/** All units are at the price of the last break that the count has reached. */
function priceAt(offer: Offer, count: number, rules: Rules): number {
  const first =
    offer.form === 'metre' ? share(fromAmount(offer.pricePerMetre), 1000) : fromAmount(offer.packPrice);
  return startsOf(offer, rules).findLast(({ from }) => from <= count)?.price ?? first;
}

/** Micrograms of a pack, a fixed length, a kit, or a mm. A weight that is not stated is 0. */
function weightOfOne(job: Job, offer: Offer): number {
  const part = (code: string) => job.parts.find((candidate) => candidate.code === code);
  const piece = (code: string) => Math.round((part(code)?.weightG ?? 0) * 1000) * (GRAM / 1000);
  const ofMm = (code: string) => {
    const found = part(code);
    return found && 'gramsPerM' in found ? Math.round((found.gramsPerM ?? 0) * 1000) : 0;
  };
  switch (offer.form) {
    case 'pack':
      return offer.packCount * piece(offer.part);
    case 'kit':
      return offer.contents.reduce((sum, { part: code, quantity }) => sum + quantity * piece(code), 0);
    case 'length':
      return offer.nominalMm * ofMm(offer.part);
    case 'metre':
      return ofMm(offer.part);
  }
}

/** Whether a count of the offer meets by itself all that it could serve of the needs. */
function meetsAlone(offer: Offer, count: number, needs: readonly Need[], rules: Rules): boolean {
  return needs.every((need) => {
    if (need.kind === 'count') {
      const each = piecesOf(offer, need.part);
      return each === 0 || count * each >= need.quantity;
    }
    if (!serves(offer, need, rules)) return true;
    const total = need.pieces.reduce((sum, mm) => sum + mm, 0);
    if (offer.form !== 'length') return count >= total;
    const each = usableMm(offer, rules);
    if (need.joinable) return count * each >= total;
    const fitting = need.pieces.filter((mm) => mm <= each);
    return leftOver(fitting, Array<number>(Math.min(count, fitting.length)).fill(each)) === 0;
  });
}

/** Pieces of a part in one pack or kit. */
export function piecesOf(offer: Offer, part: string): number {
  if (offer.form === 'kit') return offer.contents.find((content) => content.part === part)?.quantity ?? 0;
  return offer.form === 'pack' && offer.part === part ? offer.packCount : 0;
}
