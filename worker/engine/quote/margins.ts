import type { Offer } from '../model/offer.ts';
import type { Supplier } from '../model/supplier.ts';
import type { ThresholdMargin } from '../model/thresholdMargin.ts';
import { postageFor } from '../sourcing/charges/deliveryBands.ts';
import { bandFor, type SupplierShare } from '../sourcing/problem/pricing.ts';
import type { Band, SupplierTerms } from '../sourcing/problem/problem.ts';
import { percentUp } from '../units/decimal.ts';
import { exactFromMoney, exactToAmount, priceTimesMm, type Exact, type Scale } from '../units/money.ts';
import type { Bought } from './purchases.ts';

export interface Parcel {
  supplier: Supplier;
  terms: SupplierTerms;
  share: SupplierShare;
  /** In the order of the list's lines. */
  lines: readonly Bought[];
}

export interface Told {
  /** What is met by less than this is told, percent of it. */
  thresholdMarginPercent: number;
  /** The club's. */
  currency: string;
  scale: Scale;
}

/** Free or lower postage, a minimum order and price breaks that one parcel meets by little, and what it costs to miss each. */
export function marginsOf(parcel: Parcel, told: Told): ThresholdMargin[] {
  return [...orderMargin(parcel, told), ...postageMargins(parcel, told), ...breakMargins(parcel, told)];
}

function orderMargin({ supplier, share }: Parcel, { thresholdMarginPercent }: Told): ThresholdMargin[] {
  if (!supplier.minimumOrder) return [];
  const margin = marginOf(share.goods, exactFromMoney(supplier.minimumOrder), thresholdMarginPercent);
  return margin ? [{ kind: 'minimumOrder', ...inMoney(margin, supplier.currency) }] : [];
}

/** Of postage by value each step, by weight the value from which it is free; where the parcel costs more below it. */
function postageMargins({ supplier, terms, share }: Parcel, told: Told): ThresholdMargin[] {
  const { postage, currency } = supplier;
  if (!postage) return [];
  const starts =
    postage.by === 'value' ? postage.bands.map(({ fromValue }) => fromValue) : [postage.freeFromValue];
  return starts.flatMap((start): ThresholdMargin[] => {
    if (!start) return [];
    const from = exactFromMoney(start);
    const margin = marginOf(share.goods, from, told.thresholdMarginPercent);
    const more = margin && chargedBelow(terms.bands, from, share.micrograms);
    if (!more || more <= 0n) return [];
    const isFree = postageFor(supplier, from, share.micrograms) === 0n;
    return [
      {
        kind: isFree ? 'freePostage' : 'postage',
        ...inMoney(margin, currency),
        costs: inClub(more, told),
      },
    ];
  });
}

/** By how much a parcel of goods worth a threshold costs more by the band that ends there than by the one that begins. */
function chargedBelow(bands: readonly Band[], at: Exact, micrograms: number): Exact | undefined {
  const [below, here] = [bandFor(bands, at - 1n, micrograms), bandFor(bands, at, micrograms)];
  return below && here && below.charge + below.rate * at - (here.charge + here.rate * at);
}

/** Each line at a price of a break, with what it would cost at the price before. */
function breakMargins({ share, lines }: Parcel, told: Told): ThresholdMargin[] {
  return lines.flatMap(({ offer, purchase: { bought } }, index): ThresholdMargin[] => {
    const amount = bought.form === 'metre' ? bought.lengthMm : bought.packs;
    const steps = stepsOf(offer);
    const at = steps.findLastIndex(({ from }) => from <= amount);
    const [here, before] = [steps[at], steps[at - 1]];
    if (!here || !before) return [];
    const margin = marginOf(BigInt(amount), BigInt(here.from), told.thresholdMarginPercent);
    const more = (before.costOf(amount) - here.costOf(amount)) * share.rate;
    if (!margin || more <= 0n) return [];
    const as = (value: bigint) =>
      bought.form === 'metre' ? { mm: Number(value) } : { packs: Number(value) };
    const { at: from, over, percent } = margin;
    return [
      {
        kind: 'break',
        line: index + 1,
        threshold: as(from),
        over: as(over),
        percent,
        costs: inClub(more, told),
      },
    ];
  });
}

/** What so many packs or mm of an offer cost, at its price for that many, as stated. */
export function statedCost(offer: Offer, amount: number): Exact {
  return (
    stepsOf(offer)
      .findLast(({ from }) => from <= amount)
      ?.costOf(amount) ?? 0n
  );
}

/** The prices of an offer, each from so many packs or mm on. */
function stepsOf(offer: Offer): { from: number; costOf: (amount: number) => Exact }[] {
  if (offer.form === 'metre')
    return [{ fromMm: 0, pricePerMetre: offer.pricePerMetre }, ...(offer.breaks ?? [])].map(
      ({ fromMm, pricePerMetre }) => ({
        from: fromMm,
        costOf: (mm: number) => priceTimesMm(exactFromMoney(pricePerMetre), mm),
      }),
    );
  return [{ fromPacks: 0, packPrice: offer.packPrice }, ...(offer.breaks ?? [])].map(
    ({ fromPacks, packPrice }) => ({
      from: fromPacks,
      costOf: (packs: number) => exactFromMoney(packPrice) * BigInt(packs),
    }),
  );
}

interface Margin {
  at: bigint;
  over: bigint;
  percent: number;
}

/** By how much a threshold is met, where that is less than so many percent of it. */
function marginOf(amount: bigint, at: bigint, percent: number): Margin | undefined {
  const over = amount - at;
  // Percentages have at most four decimals.
  const isNear = over * 1_000_000n < at * BigInt(Math.round(percent * 10_000));
  return over < 0n || at === 0n || !isNear ? undefined : { at, over, percent: percentUp(over, at) };
}

function inMoney({ at, over, percent }: Margin, currency: string) {
  const money = (exact: Exact) => ({ amount: exactToAmount(exact, currency), currency });
  return { threshold: money(at), over: money(over), percent };
}

function inClub(exact: Exact, { currency, scale }: Told) {
  return { amount: exactToAmount(exact, currency, scale), currency };
}
