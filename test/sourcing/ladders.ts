import type { Offer } from '../../worker/engine/model/offer.ts';
import { checked, fromAmount, share } from './exactMoney.ts';
import type { Rules } from './rules.ts';

/** One amount of an offer that may be bought: pieces or mm, and what they cost. */
export interface Rung {
  gives: number;
  costs: number;
}

/** Every amount of an offer that may be bought, rising without end, in view of a need of so many pieces or mm. */
export function ladderOf(offer: Offer, need: number, rules: Rules): Generator<Rung, never> {
  if (offer.form === 'pack') return packLadder(offer, need, rules);
  if (offer.form === 'metre') return metreLadder(offer, need, rules);
  throw new Error(`an offer of form ${offer.form} is not part of these rules`);
}

function* packLadder(
  offer: Extract<Offer, { form: 'pack' }>,
  need: number,
  rules: Rules,
): Generator<Rung, never> {
  const price = fromAmount(offer.packPrice);
  const minimum = rules.minimumPacks ? offer.minimumPacks : 1;
  const rung = (pieces: number) => ({ gives: pieces, costs: share(price * pieces, offer.packCount) });
  for (let packs = minimum; ; packs += 1) {
    const pieces = packs * offer.packCount;
    const below = packs === minimum ? 0 : pieces - offer.packCount;
    if (!rules.wholePacks && minimum === 1 && below < need && need < pieces) yield rung(need);
    yield rung(pieces);
  }
}

function* metreLadder(
  offer: Extract<Offer, { form: 'metre' }>,
  need: number,
  rules: Rules,
): Generator<Rung, never> {
  const pricePerMm = share(fromAmount(offer.pricePerMetre), 1000);
  const minimum = rules.metreMinimum ? offer.minimumMm : 1;
  // As one length nothing short of the need will do; in several, any length may.
  const least = rules.oneLength ? Math.max(minimum, need) : minimum;
  const rung = (mm: number) => ({ gives: mm, costs: checked(pricePerMm * mm) });
  const firstStep = Math.ceil(least / offer.stepMm) * offer.stepMm;
  if (!rules.metreStep && least < firstStep) yield rung(least);
  for (let mm = firstStep; ; mm += offer.stepMm) yield rung(mm);
}
