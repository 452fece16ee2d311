import type { Proof } from '../../model/result.ts';
import { percentUp } from '../../units/decimal.ts';
import { exactToAmount, type Exact, type Scale } from '../../units/money.ts';
import type { Solved } from './solve.ts';

const ASSUMPTIONS = [
  'Each supplier sends all of its goods of an order in one parcel, and charges postage by their value before rounding, or by their weight; where none is stated, none is charged.',
  'Rates of exchange, tax, duty and fees are those entered; what is not entered is not charged. Values compared with thresholds are of the whole parcel.',
  'What may stand in for another part does so only where it is stated; families that only work together are bought whole, one family for all that is needed of it, and a tool that is not on the shelf is bought once.',
  'Of one wire, sleeve or cable at most one continuous length is bought by the metre in an order, fixed lengths beside it; only where the longest, one an order, and all fixed lengths are too short together, several of one order, one of each offer. Pieces come whole out of one length, nothing is lost at a cut, and tape may be joined.',
  'Packs, kits and lengths are bought whole; where no stock is stated there is enough.',
  'Buying more than is needed is allowed where it is cheaper; what is left over counts nothing.',
  'Prices are as they were entered; none but the offers entered are known.',
];

/** The proof in the result: what the mix costs unrounded, what no mix goes below, and what was taken for granted. */
export function proofOf(
  solved: Solved | undefined,
  { currency, scale, nuisance }: { currency: string; scale: Scale; nuisance: Exact },
): Proof {
  const money = (exact: Exact) => ({ amount: exactToAmount(exact, currency, scale), currency });
  if (!solved)
    return {
      status: 'nothingToBuy',
      cost: money(0n),
      bound: money(0n),
      gap: money(0n),
      gapPercent: 0,
      assumptions: [],
    };
  const gap = solved.cost - solved.bound;
  return {
    status: solved.proven ? 'proven' : 'bestSoFar',
    cost: money(solved.cost),
    bound: money(solved.bound),
    gap: money(gap),
    gapPercent: percentUp(gap, solved.cost),
    ...(nuisance > 0n ? { nuisance: money(nuisance) } : {}),
    ...(solved.stoppedBy ? { stoppedBy: solved.stoppedBy } : {}),
    assumptions: [
      ...ASSUMPTIONS,
      solved.tiesSettled
        ? 'Of equally cheap mixes the one with least bought too much is taken, a length counting the same whatever its size; then the one with the longest lengths; then the one with fewest parcels.'
        : 'Other mixes of the same cost were not compared to the end: there may be one with less bought too much, with longer lengths, or with fewer parcels.',
    ],
  };
}
