import type { Job } from '../model/job.ts';
import type { Offer } from '../model/offer.ts';
import type { Purchase } from '../model/result.ts';
import type { Plan, Problem } from '../sourcing/problem.ts';
import { exactToAmount, minorToAmount, toMinor, type Exact } from '../units/money.ts';

/** A purchase with what the printed lines are made from. */
export interface Bought {
  purchase: Purchase;
  offer: Extract<Offer, { form: 'pack' | 'metre' }>;
  exact: Exact;
}

/** What a plan buys, in the order of the requirements and then of the offers' codes. */
export function boughtIn(job: Job, problem: Problem, plan: Plan): Bought[] {
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  const { currency } = job.club;
  return problem.demands.flatMap((demand) =>
    demand.choices.flatMap((index): Bought[] => {
      const choice = problem.choices[index];
      const units = plan[index] ?? 0;
      const offer = offers.get(choice?.offer ?? '');
      if (!choice || units === 0 || (offer?.form !== 'pack' && offer?.form !== 'metre')) return [];
      const exact = choice.price * BigInt(units);
      return [
        {
          offer,
          exact,
          purchase: {
            requirement: demand.requirement,
            offer: offer.code,
            supplier: offer.supplier,
            part: offer.part,
            bought: amountOf(offer, units),
            exactCost: { amount: exactToAmount(exact, currency), currency },
            cost: { amount: minorToAmount(toMinor(exact), currency), currency },
          },
        },
      ];
    }),
  );
}

function amountOf(offer: Bought['offer'], units: number): Purchase['bought'] {
  return offer.form === 'pack'
    ? {
        form: 'pack',
        packs: units,
        packCount: offer.packCount,
        pieces: units * offer.packCount,
        packPrice: offer.packPrice,
      }
    : { form: 'metre', lengthMm: units * offer.stepMm, pricePerMetre: offer.pricePerMetre };
}
