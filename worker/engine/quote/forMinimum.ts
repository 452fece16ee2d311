import type { Supplier } from '../model/supplier.ts';
import type { CuttingPlan, Leftover } from '../model/result.ts';
import type { MoreForMinimum } from '../model/thresholdMargin.ts';
import type { SupplierShare } from '../sourcing/problem/pricing.ts';
import { exactFromMoney } from '../units/money.ts';
import { statedCost } from './margins.ts';
import type { Bought } from './purchases.ts';

/** What is known of a quote's goods that are not used. */
export interface Unused {
  cuttingPlans: readonly CuttingPlan[];
  leftovers: readonly Leftover[];
}

interface Parcel {
  supplier: Supplier;
  share: SupplierShare;
  /** The order with which it comes, where there are several. */
  wave: number | undefined;
  /** In the order of the list's lines. */
  lines: readonly Bought[];
}

/**
 * Lines of a parcel of which more is bought than is needed, where the goods would not reach the minimum order without that.
 * What a line could be ordered without is told, in its steps and from its minimum on; kits are passed over.
 */
export function moreForMinimum({ supplier, share, wave, lines }: Parcel, unused: Unused): MoreForMinimum[] {
  const { minimumOrder } = supplier;
  if (!minimumOrder) return [];
  const least = exactFromMoney(minimumOrder);
  if (share.goods < least) return [];
  return lines.flatMap((line, index): MoreForMinimum[] => {
    const { offer } = line;
    const { bought } = line.purchase;
    const over = spareOf(line, wave, unused);
    const amount = bought.form === 'metre' ? bought.lengthMm : bought.packs;
    const saved = statedCost(offer, amount) - statedCost(offer, amount - over);
    if (over <= 0 || saved <= 0n || share.goods - saved >= least) return [];
    return [
      { line: index + 1, over: bought.form === 'metre' ? { mm: over } : { packs: over }, minimumOrder },
    ];
  });
}

/** Packs or mm that a line could be ordered without, all else being as it is. */
function spareOf({ purchase, offer }: Bought, wave: number | undefined, unused: Unused): number {
  const { bought, requirement } = purchase;
  const cut = unused.cuttingPlans
    .filter((plan) => plan.requirement === requirement)
    .flatMap(({ lengths }) => lengths)
    .filter((length) => length.offer === offer.code && length.wave === wave);
  if (offer.form === 'metre' && bought.form === 'metre') {
    const [only] = cut;
    if (!only || cut.length > 1 || only.lengths > 1) return 0;
    return inSteps(Math.min(only.offcutMm, bought.lengthMm - offer.minimumMm), offer.stepMm);
  }
  if (offer.form === 'length' && bought.form === 'length') {
    if (cut.length === 0) return 0;
    const used = cut.reduce((sum, { lengths, pieces }) => sum + (pieces.length > 0 ? lengths : 0), 0);
    return inSteps(Math.min(bought.packs - used, bought.packs - offer.minimumPacks), offer.stepPacks);
  }
  if (offer.form !== 'pack' || bought.form !== 'pack') return 0;
  const { surplus } = unused.leftovers.find((left) => left.requirement === requirement) ?? {};
  const whole = Math.floor((surplus?.quantity ?? 0) / bought.packCount);
  return inSteps(Math.min(whole, bought.packs - offer.minimumPacks), offer.stepPacks);
}

const inSteps = (amount: number, step: number) => Math.max(0, Math.floor(amount / step) * step);
