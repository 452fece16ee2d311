import type { Proof } from '../../model/result.ts';
import { percentUp } from '../../units/decimal.ts';
import { exactToAmount, type Exact, type Scale } from '../../units/money.ts';
import type { Solved } from './solve.ts';

const ASSUMPTIONS = [
  'Each supplier sends all goods of an order in one parcel. Postage is charged by their value before rounding, or by their weight. If no postage is entered, none is charged.',
  'Rates of exchange, tax, duty and fees are as entered. What is not entered is not charged. Thresholds are compared with the value of the whole parcel.',
  'A part stands in for another only if this is stated. Parts that only work together are bought as one complete family. A tool that is not in stock is bought once.',
  'In one order, at most one continuous length of each wire, sleeve or cable is bought by the metre, plus any fixed lengths. Only if that cannot be enough, several lengths by the metre are bought, one from each offer. Each piece is cut whole from one length. Nothing is lost at a cut. Tape may be joined.',
  'Packs, kits and lengths are bought whole. If the stock of an offer is not stated, there is enough.',
  'More than is needed is bought if that is cheaper. Leftovers have no value.',
  'Prices are as entered. Only the offers that are entered are known.',
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
        ? 'If several mixes cost the same, the one with the least surplus is taken (what is bought beyond each need, as a share of that need; a fixed length counts the same whatever its size); then the one with the longest lengths; then the one with the fewest parcels.'
        : 'Not all mixes of the same cost were compared: there may be one with less surplus, with longer lengths, or with fewer parcels.',
    ],
  };
}
