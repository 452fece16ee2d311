import type { BuildOrBuyRequest } from '../../worker/engine/model/buildOrBuyRequest.ts';

const gbp = (amount: string) => ({ amount, currency: 'GBP' });

/** All that a request can say of building and buying. */
export const BUILD_OR_BUY: BuildOrBuyRequest = {
  order: 'cheapest',
  hourWorth: gbp('12.00'),
  extras: [
    { description: 'gas', kind: 'consumable', cost: gbp('8.00'), sellsFor: gbp('1.00'), sharedOver: 2 },
  ],
  tools: [{ part: 'crimper', sellsFor: gbp('20.00'), sharedOver: 4 }],
};
