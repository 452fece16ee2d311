import type { Job } from '../../../worker/engine/model/job.ts';
import { inClubMoney, rateOf } from './rates.ts';
import { compare, ONE, over, plus, share, sumOf, times, ZERO, type Ratio } from './ratio.ts';
import type { Rules } from './rules.ts';

type Supplier = Job['suppliers'][number];
type Lane = Job['lanes'][number];

/** Goods, postage and handling of a parcel, as the supplier states them, in the club's currency. */
interface Stated {
  goods: Ratio;
  postage: Ratio;
  handling: Ratio;
}

/** What a supplier's parcels cost at the door. */
export interface Taxes {
  /** Of one parcel, in the club's currency. */
  delivered(stated: Stated): Ratio;
  /** A parcel costs at least so much for each unit of its goods, and so much for each unit of postage and handling, and so much beside. */
  least: { goods: Ratio; carriage: Ratio; once: Ratio };
}

/** Whether there is a rate for every currency that the supplier and its lane are in. */
export function isPriced(job: Job, supplier: Supplier, rules: Rules): boolean {
  const lane = laneOf(job, supplier);
  const abroad = lane && lane.from !== lane.to && supplier.pricesInclude !== 'taxAndDuty' ? lane : undefined;
  const moneys = [
    abroad?.taxOverValue,
    abroad?.dutyOverValue,
    abroad?.clearanceFee,
    abroad?.clearanceOverValue,
  ];
  const currencies = [supplier.currency, ...moneys.flatMap((money) => (money ? [money.currency] : []))];
  return currencies.every((currency) => rateOf(job, currency, rules) !== undefined);
}

export function taxesOf(job: Job, supplier: Supplier, rules: Rules): Taxes {
  const lane = laneOf(job, supplier);
  const holds = supplier.pricesInclude;
  if (!lane) return withTax(ZERO);
  if (lane.from === lane.to)
    return withTax(holds === 'noTax' && rules.taxAdded ? share(lane.taxPercent) : ZERO);
  if (holds === 'taxAndDuty' && rules.taxAndDuty) return withTax(ZERO);
  const takenOff = holds === 'tax' && rules.taxTakenOff ? share(lane.sellerTaxPercent) : ZERO;
  return abroad(job, lane, plus(ONE, takenOff), rules);
}

function laneOf(job: Job, supplier: Supplier): Lane | undefined {
  return job.lanes.find(({ from, to }) => from === supplier.country && to === job.club.country);
}

function withTax(tax: Ratio): Taxes {
  const factor = plus(ONE, tax);
  return {
    delivered: ({ goods, postage, handling }) => times(sumOf([goods, postage, handling]), factor),
    least: { goods: factor, carriage: factor, once: ZERO },
  };
}

function abroad(job: Job, lane: Lane, takenOff: Ratio, rules: Rules): Taxes {
  const limit = (money: Lane['taxOverValue'], read: boolean) =>
    money && read ? inClubMoney(job, money, rules) : undefined;
  const dutyOver = limit(lane.dutyOverValue, rules.dutyThreshold);
  const taxOver = limit(lane.taxOverValue, rules.taxThreshold);
  const feeOver = limit(lane.clearanceOverValue, rules.clearanceThreshold);
  const duty = rules.duty ? share(lane.dutyPercent) : ZERO;
  const tax = rules.importTax ? share(lane.taxPercent) : ZERO;
  const fee = lane.clearanceFee && rules.clearanceFee ? inClubMoney(job, lane.clearanceFee, rules) : ZERO;
  const chargedThere = rules.exactlyThere && lane.exactlyThere === 'charged';
  const dutyOnGoods = rules.dutyOn && lane.dutyOn === 'goods';
  const valueOfAll = rules.valueIs && lane.valueIs === 'goodsAndPostage';
  const isOver = (value: Ratio, threshold: Ratio | undefined) =>
    threshold === undefined || compare(value, threshold) > (chargedThere ? -1 : 0);
  const always = (share: Ratio, threshold: Ratio | undefined) => plus(ONE, threshold ? ZERO : share);
  return {
    delivered: (stated) => {
      const goods = over(stated.goods, takenOff);
      const all = plus(goods, over(plus(stated.postage, stated.handling), takenOff));
      const value = valueOfAll ? all : goods;
      const dutyDue = isOver(value, dutyOver) ? times(duty, dutyOnGoods ? goods : all) : ZERO;
      const taxDue = isOver(value, taxOver) ? times(tax, plus(all, dutyDue)) : ZERO;
      return sumOf([all, dutyDue, taxDue, isOver(value, feeOver) ? fee : ZERO]);
    },
    least: {
      goods: over(times(always(duty, dutyOver), always(tax, taxOver)), takenOff),
      carriage: over(always(tax, taxOver), takenOff),
      once: feeOver ? ZERO : fee,
    },
  };
}
