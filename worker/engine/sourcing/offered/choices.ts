import type { Offer } from '../../model/offer.ts';
import { usableMm } from '../../model/offerPrice.ts';
import type { Part } from '../../model/part.ts';
import { ceilWhole, D, unitsToCover } from '../../units/decimal.ts';
import { exactFromMoney, priceTimesMm } from '../../units/money.ts';
import type { Choice, Tier } from '../problem/problem.ts';

/** What a unit of an offer gives of a part: pieces, or usable millimetres. */
export function givenBy(offer: Offer, part: string): number {
  switch (offer.form) {
    case 'pack':
      return offer.packCount;
    case 'kit':
      return offer.contents.find((content) => content.part === part)?.quantity ?? 0;
    case 'metre':
      return offer.stepMm;
    case 'length':
      return usableMm(offer);
  }
}

/** An offer as a choice, without what it serves; undefined where no order of it can be filled from stock. */
export function choiceOf(
  offer: Offer,
  supplier: number,
  wave: number,
  parts: ReadonlyMap<string, Part>,
): Omit<Choice, 'serves'> | undefined {
  const rules = offer.form === 'metre' ? metreRules(offer) : packRules(offer);
  const mostUnits = rules.stock === undefined ? undefined : Math.floor(rules.stock / rules.step) * rules.step;
  if (mostUnits !== undefined && mostUnits < rules.minimum) return undefined;
  return {
    offer: offer.code,
    supplier,
    wave,
    form: offer.form,
    tiers: tiersOf(rules, mostUnits),
    step: rules.step,
    mostUnits,
    microgramsPerUnit: Math.min(microgramsOf(offer, parts), A_TONNE),
    piecesPerUnit: offer.form === 'kit' ? offer.contents.reduce((sum, { quantity }) => sum + quantity, 0) : 1,
  };
}

interface Rules {
  minimum: number;
  step: number;
  stock: number | undefined;
  /** From so many units on at this price each; the first holds from the minimum. */
  breaks: Tier[];
}

function packRules(offer: Exclude<Offer, { form: 'metre' }>): Rules {
  const first = { fromUnits: 1, price: exactFromMoney(offer.packPrice) };
  return {
    step: offer.stepPacks,
    minimum: unitsToCover(offer.minimumPacks, offer.stepPacks) * offer.stepPacks,
    stock: offer.stockPacks,
    breaks: [
      first,
      ...(offer.breaks ?? []).map(({ fromPacks, packPrice }) => ({
        fromUnits: fromPacks,
        price: exactFromMoney(packPrice),
      })),
    ],
  };
}

/** Units are steps of length. */
function metreRules(offer: Extract<Offer, { form: 'metre' }>): Rules {
  const priceOf = (price: { amount: string; currency: string }) =>
    priceTimesMm(exactFromMoney(price), offer.stepMm);
  return {
    step: 1,
    minimum: unitsToCover(offer.minimumMm, offer.stepMm),
    stock: offer.stockMm === undefined ? undefined : Math.floor(offer.stockMm / offer.stepMm),
    breaks: [
      { fromUnits: 1, price: priceOf(offer.pricePerMetre) },
      ...(offer.breaks ?? []).map(({ fromMm, pricePerMetre }) => ({
        fromUnits: unitsToCover(fromMm, offer.stepMm),
        price: priceOf(pricePerMetre),
      })),
    ],
  };
}

/** Tiers that can be reached, each starting at an amount that is sold. */
function tiersOf({ minimum, step, breaks }: Rules, mostUnits: number | undefined): Tier[] {
  const tiers: Tier[] = [];
  for (const { fromUnits, price } of breaks) {
    const from = Math.max(minimum, unitsToCover(fromUnits, step) * step);
    if (mostUnits !== undefined && from > mostUnits) continue;
    const last = tiers.at(-1);
    // Two that start at one amount: the later break holds there.
    if (last?.fromUnits === from) last.price = price;
    else tiers.push({ fromUnits: from, price });
  }
  return tiers;
}

const MICROGRAMS_PER_G = 1_000_000;
/** Whatever weighs more counts so much: sums of larger figures would not be exact. */
const A_TONNE = 1e12;
/** Grams a metre are milligrams a millimetre. */
const MICROGRAMS_PER_MG = 1000;

/** Weight of a unit, whole micrograms, rounded up; parts without a weight count nothing. */
function microgramsOf(offer: Offer, parts: ReadonlyMap<string, Part>): number {
  const perPiece = (code: string) => new D(parts.get(code)?.weightG ?? 0);
  const perMetre = (code: string) => {
    const part = parts.get(code);
    return new D((part && 'gramsPerM' in part ? part.gramsPerM : undefined) ?? 0);
  };
  switch (offer.form) {
    case 'pack':
      return ceilWhole(perPiece(offer.part).mul(offer.packCount).mul(MICROGRAMS_PER_G));
    case 'kit':
      return ceilWhole(
        offer.contents
          .reduce((sum, { part, quantity }) => sum.add(perPiece(part).mul(quantity)), new D(0))
          .mul(MICROGRAMS_PER_G),
      );
    case 'metre':
      return ceilWhole(perMetre(offer.part).mul(offer.stepMm).mul(MICROGRAMS_PER_MG));
    case 'length':
      return ceilWhole(perMetre(offer.part).mul(offer.nominalMm).mul(MICROGRAMS_PER_MG));
  }
}

/** Parts that an offer sells and whose weight is not known. */
export function withoutWeight(offer: Offer, parts: ReadonlyMap<string, Part>): string[] {
  const codes = offer.form === 'kit' ? offer.contents.map(({ part }) => part) : [offer.part];
  return codes.filter((code) => {
    const part = parts.get(code);
    if (!part) return false;
    return offer.form === 'metre' || offer.form === 'length'
      ? !('gramsPerM' in part) || part.gramsPerM === undefined
      : part.weightG === undefined;
  });
}
