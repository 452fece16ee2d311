import type { Job } from '../model/job.ts';
import type { Lane } from '../model/lane.ts';
import type { Supplier } from '../model/supplier.ts';

/** What is added to a supplier's prices, or taken off them, on the way to the club. */
export type Customs =
  /** Nothing; `unknown`: only because it is not known what. */
  | { kind: 'none'; unknown?: 'lane' | 'tax' }
  /** Tax of one's own country, on prices without it. */
  | { kind: 'home'; lane: Lane }
  /** `takeOff`: the tax of the seller's country is taken off the prices first. */
  | { kind: 'abroad'; lane: Lane; takeOff: boolean };

/** What holds between a supplier and the club. */
export function customsOf(job: Pick<Job, 'club' | 'lanes'>, supplier: Supplier): Customs {
  const { country } = job.club;
  const { country: from, pricesInclude } = supplier;
  if (country === undefined || from === undefined) return { kind: 'none' };
  const lane = job.lanes.find((other) => other.from === from && other.to === country);
  if (from === country) {
    if (pricesInclude !== 'noTax') return { kind: 'none' };
    return lane ? { kind: 'home', lane } : { kind: 'none', unknown: 'tax' };
  }
  if (pricesInclude === 'taxAndDuty') return { kind: 'none' };
  return lane
    ? { kind: 'abroad', lane, takeOff: pricesInclude === 'tax' }
    : { kind: 'none', unknown: 'lane' };
}

/** The currencies in which a lane states its thresholds and fee. */
export function laneCurrencies({
  taxOverValue,
  dutyOverValue,
  clearanceFee,
  clearanceOverValue,
}: Lane): string[] {
  return [taxOverValue, dutyOverValue, clearanceFee, clearanceOverValue].flatMap(
    (money) => money?.currency ?? [],
  );
}
