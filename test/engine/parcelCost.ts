import type { Job } from '../../worker/engine/model/job.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';
import { inClubMoney } from '../sourcing/whole/rates.ts';
import {
  compare,
  fromDecimal,
  ONE,
  over,
  plus,
  ratio,
  share,
  sumOf,
  times,
  ZERO,
  type Ratio,
} from '../sourcing/whole/ratio.ts';
import { RULES_ON } from '../sourcing/whole/rules.ts';

type Supplier = Job['suppliers'][number];
type Bought = OrderList['lines'][number]['bought'];

/** What a parcel costs, each kind of it in the club's currency, unrounded: worked anew, with nothing of the engine's. */
export interface ParcelCost {
  goods: Ratio;
  postage: Ratio;
  handling: Ratio;
  tax: Ratio;
  duty: Ratio;
  importTax: Ratio;
  clearance: Ratio;
  total: Ratio;
}

export function parcelCost(job: Job, supplier: Supplier, lines: OrderList['lines']): ParcelCost {
  const stated = sumOf(lines.map((line) => priceOf(job, line)));
  const grams = lines.reduce((sum, line) => sum + gramsOf(job, line), 0);
  const toClub = (amount: Ratio) =>
    times(amount, inClubMoney(job, { amount: '1', currency: supplier.currency }, RULES_ON));
  const lane = job.lanes.find(({ from, to }) => from === supplier.country && to === job.club.country);
  const isHome = lane !== undefined && lane.from === lane.to;
  const isAbroad = lane !== undefined && !isHome && supplier.pricesInclude !== 'taxAndDuty';
  const held = isAbroad && supplier.pricesInclude === 'tax' ? share(lane.sellerTaxPercent) : ZERO;
  const [goods, postage, handling] = [
    stated,
    postageOf(supplier, stated, grams),
    supplier.handling ? fromDecimal(supplier.handling.amount) : ZERO,
  ].map((amount) => over(toClub(amount), plus(ONE, held))) as [Ratio, Ratio, Ratio];
  const all = sumOf([goods, postage, handling]);
  const value = lane?.valueIs === 'goodsAndPostage' ? all : goods;
  const isDue = (threshold: Supplier['handling']) => {
    if (!isAbroad) return false;
    if (!threshold) return true;
    const side = compare(value, inClubMoney(job, threshold, RULES_ON));
    return lane.exactlyThere === 'charged' ? side >= 0 : side > 0;
  };
  const tax = isHome && supplier.pricesInclude === 'noTax' ? times(share(lane.taxPercent), all) : ZERO;
  const duty =
    lane && isDue(lane.dutyOverValue)
      ? times(share(lane.dutyPercent), lane.dutyOn === 'goods' ? goods : all)
      : ZERO;
  const importTax = lane && isDue(lane.taxOverValue) ? times(share(lane.taxPercent), plus(all, duty)) : ZERO;
  const clearance =
    lane?.clearanceFee && isDue(lane.clearanceOverValue)
      ? inClubMoney(job, lane.clearanceFee, RULES_ON)
      : ZERO;
  const total = sumOf([all, tax, duty, importTax, clearance]);
  return { goods, postage, handling, tax, duty, importTax, clearance, total };
}

/** A line at the price that its amount reaches, in the supplier's currency. */
function priceOf(job: Job, { offer: code, bought }: { offer: string; bought: Bought }): Ratio {
  const offer = job.offers.find((candidate) => candidate.code === code);
  if (bought.form === 'metre') {
    if (offer?.form !== 'metre') throw new Error(`${code} is not sold by the metre`);
    const reached = (offer.breaks ?? []).filter(({ fromMm }) => fromMm <= bought.lengthMm).at(-1);
    const each = fromDecimal((reached ?? offer).pricePerMetre.amount);
    return times(each, ratio(BigInt(bought.lengthMm), 1000n));
  }
  if (!offer || offer.form === 'metre') throw new Error(`${code} is sold by the metre`);
  const reached = (offer.breaks ?? []).filter(({ fromPacks }) => fromPacks <= bought.packs).at(-1);
  return times(fromDecimal((reached ?? offer).packPrice.amount), ratio(BigInt(bought.packs), 1n));
}

/** Parts without a weight weigh nothing. */
function gramsOf(job: Job, { offer: code, bought }: { offer: string; bought: Bought }): number {
  const offer = job.offers.find((candidate) => candidate.code === code);
  const part = (of: string) => job.parts.find((candidate) => candidate.code === of);
  const perM = (of: string) => {
    const found = part(of);
    return found && 'gramsPerM' in found ? (found.gramsPerM ?? 0) : 0;
  };
  if (bought.form === 'kit')
    return bought.contents.reduce(
      (sum, { part: of, quantity }) => sum + bought.packs * quantity * (part(of)?.weightG ?? 0),
      0,
    );
  const of = offer && 'part' in offer ? offer.part : '';
  if (bought.form === 'pack') return bought.pieces * (part(of)?.weightG ?? 0);
  return (perM(of) * (bought.form === 'metre' ? bought.lengthMm : bought.packs * bought.nominalMm)) / 1000;
}

function postageOf({ postage }: Supplier, goods: Ratio, grams: number): Ratio {
  if (!postage) return ZERO;
  const reaches = (amount: string) => compare(goods, fromDecimal(amount)) >= 0;
  if (postage.by === 'value')
    return fromDecimal(
      postage.bands.filter(({ fromValue }) => reaches(fromValue.amount)).at(-1)?.charge.amount ?? '0',
    );
  if (postage.freeFromValue && reaches(postage.freeFromValue.amount)) return ZERO;
  return fromDecimal(postage.bands.filter(({ fromG }) => fromG <= grams).at(-1)?.charge.amount ?? '0');
}

/** Half-up to so many decimals, as it is printed. */
export function printed({ n, d }: Ratio, decimals: number): string {
  const whole = (2n * n * 10n ** BigInt(decimals) + d) / (2n * d);
  const digits = whole.toString().padStart(decimals + 1, '0');
  return decimals === 0 ? digits : `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}
