import type { OfferPrices, WinningPrice } from '../engine/model/winningPrice.ts';
import { metres } from '../engine/units/length.ts';
import { counted } from './amounts.ts';
import { paragraph } from './textTable.ts';

/** The price at which an offer is bought, in sentences, with a line end at its end. */
export function winningPriceText(answer: WinningPrice): string {
  const { offer, supplier, supplierName = supplier, stated, asOf } = answer;
  return [
    `Offer ${offer} of ${supplierName}, as of ${asOf}, at ${pricesText(answer, stated)}`,
    '',
    paragraph(verdict(answer)),
    ...(answer.at ? [paragraph(mixText(answer, answer.at))] : []),
    paragraph(proofText(answer)),
  ]
    .join('\n')
    .concat('\n');
}

const EACH = { pack: 'a pack', metre: 'a metre', length: 'a length', kit: 'a kit' } as const;

function pricesText({ form }: WinningPrice, { first, breaks }: OfferPrices): string {
  const further = breaks.map(
    ({ fromPacks, fromMm, price }) =>
      `${price.amount} from ${fromMm === undefined ? fromPacks : metres(fromMm)}`,
  );
  return `${[`${first.amount} ${first.currency} ${EACH[form]}`, ...further].join(', ')}.`;
}

function verdict(answer: WinningPrice): string {
  const { outcome, at, losesAt, without, stated, proof } = answer;
  const prices = at ? pricesText(answer, at.prices) : '';
  const loses = losesAt ? ` At ${losesAt.first.amount} it is not bought.` : '';
  switch (outcome) {
    case 'wins':
      return `It wins at ${prices} That is ${-(at?.changePercent ?? 0)} % less.${loses}`;
    case 'bought':
      if (Number(stated.first.amount) === 0)
        return 'It costs nothing and is bought; there is no price to raise.';
      return losesAt
        ? `It is bought already, and stays so up to ${prices} That is ${at?.changePercent ?? 0} % more.${loses}`
        : `It is bought already, and it is still bought at ${prices} Higher prices were not looked at.`;
    case 'always':
      return without.unsourced > 0
        ? `It is bought whatever it costs: without it ${counted(without.unsourced, 'need')} more would not be met.`
        : 'It is bought whatever it costs: without it a supplier insisted on would be left out.';
    case 'never':
      return proof.elsewhere === 'settled'
        ? 'It does not win at any price, not even at 0: postage, or what else must be bought with it, costs more than it saves.'
        : 'It does not win at any price that was looked at: 0, its stated price, and a quarter, a half and three quarters of it.';
  }
}

function mixText({ without }: WinningPrice, { buys, total }: NonNullable<WinningPrice['at']>): string {
  const amounts = buys.map(({ wave, packs, lengthMm }) => {
    const amount = lengthMm === undefined ? `${packs ?? 0}` : metres(lengthMm);
    return wave === undefined ? amount : `${amount} with order ${wave}`;
  });
  return `The mix then buys ${amounts.join(', ')} of it and comes to ${total.amount} ${total.currency}; without the offer it comes to ${without.total.amount}.`;
}

const STOPPED = {
  time: 'a longer time (the setting solverSeconds) may settle it',
  numbers: 'the amounts or quantities are too large, or the prices too fine',
  cutting: 'it is not known how the pieces of some wire are best cut',
} as const;

function proofText({ proof: { status, stoppedBy, elsewhere, solved }, outcome }: WinningPrice): string {
  const shown =
    status === 'proven'
      ? 'Proven.'
      : `Not proven: ${stoppedBy === undefined ? 'the mixes found do not meet the need that it serves' : STOPPED[stoppedBy]}.`;
  const other =
    elsewhere === 'settled' || outcome === 'bought'
      ? ''
      : ' Only these prices were looked at. At others its goods may reach or miss a threshold of its supplier, and it may win there.';
  return `${shown}${other} All prices of the offer change in the same proportion; everything else stays. ${solved} mixes were worked out.`;
}
