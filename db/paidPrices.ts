import { byCode } from '../worker/engine/model/code.ts';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { Offer } from '../worker/engine/model/offer.ts';
import type { ReceiptIn } from '../worker/engine/model/order.ts';
import { arrivedOf, orderedOf } from '../worker/engine/model/orderLines.ts';
import { withPaidPrice } from '../worker/engine/model/paidPrice.ts';
import type { OrderList } from '../worker/engine/model/result.ts';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { offers, offersByCode } from './offers.ts';

/**
 * Gives the offers of lines that say so the prices that were charged. Errors: Invalid for an offer that is gone or cannot have
 * the price; Forbidden for a member whose proposal it is not.
 */
export async function updateOffers(
  ctx: Ctx,
  { lines: ordered, theirs }: OrderList,
  { lines, day }: ReceiptIn & { day: string },
): Promise<void> {
  const told = lines.flatMap((said, at) => {
    const line = ordered.find((each) => each.line === said.line);
    return said.updateOffer === true && line ? [{ said, at, line }] : [];
  });
  if (told.length === 0) return;
  // In one order, so that two deliveries do not wait for each other.
  told.sort((a, b) => byCode(a.line.offer, b.line.offer));
  const codes = [...new Set(told.map(({ line }) => line.offer))];
  const there = await offersByCode({ ctx, input: { codes } });
  const findings: Finding[] = [];
  const changed: Offer[] = [];
  for (const { said, at, line } of told) {
    const offer = there.get(line.offer);
    const came = arrivedOf(orderedOf(line.bought).unit, said);
    const { bought } = line;
    const { paid } = said;
    const takenOff = theirs?.taxTakenOffPercent;
    const after = offer ? withPaidPrice(offer, { bought, came, paid, day, takenOff }) : 'it is gone';
    if (typeof after !== 'string') changed.push(after);
    else
      findings.push({
        code: 'offer-stays',
        severity: 'stop',
        at: pointer(['lines', at, 'updateOffer']),
        where: `lines, number ${at + 1}, updateOffer`,
        found: line.offer,
        todo: `The offer ${line.offer} cannot have this price: ${after}. Leave updateOffer out, and change the offer yourself.`,
      });
  }
  if (findings.length > 0) throw new Invalid(findings);
  for (const body of changed) await offers.replace({ ctx, input: { body, version: 'any' } });
}
