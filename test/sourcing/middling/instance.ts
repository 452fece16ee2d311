import type { Job } from '../../../worker/engine/model/job.ts';
import { randomFrom, type Random } from '../random.ts';
import { jobOf, type OfferInput, type RequestInput, type Terms } from '../whole/jobOf.ts';
import { money } from '../whole/themes/make.ts';
import { requirementsOf, wantsOf, type Requirements } from './requirements.ts';
import { offersFor } from './offers.ts';
import { rulesFor, type RulesOn } from './rules.ts';
import { lanesOf, ratesOf, seatsOf, sellersOf, SHOPS } from './sellers.ts';

/** The jobs of the proof are made from the seeds 1 to this. */
export const MIDDLING_JOBS = 200;

export const MIDDLING = { requirements: 20, suppliers: 6, offers: 120 } as const;

/**
 * A job of 20 requirements, 6 suppliers and 120 offers with some of all rules of sourcing: too large to try every purchase,
 * small enough for the model given straight to the solver. The same seed makes the same job.
 */
export function middlingJob(seed: number): Job {
  const random = randomFrom(seed * 104_729);
  const on = rulesFor(random);
  const requirements = requirementsOf(random, MIDDLING.requirements, on);
  const seats = seatsOf(random, SHOPS.slice(0, MIDDLING.suppliers), on);
  const offers = offersFor(random, requirements, MIDDLING.offers, seats, on);
  const looms = wantsOf(random, requirements, on);
  return jobOf(
    {
      looms,
      lines: Object.keys(looms).map((loom, index) => ({ loom, quantity: 1, wave: index + 1 })),
    },
    {
      parts: requirements.parts,
      suppliers: sellersOf(random, seats, on),
      offers,
      rates: ratesOf(random, seats),
      lanes: lanesOf(random, on),
      stock: on.shelf ? shelfOf(random, requirements) : [],
      request: requestOf(random, offers, requirements, on),
    },
  );
}

function shelfOf(random: Random, { counted, lengths }: Requirements): NonNullable<Terms['stock']> {
  return [
    ...counted.flatMap(({ part, needed }) =>
      random.percent(25)
        ? [{ form: 'pieces' as const, code: `my-${part}`, part, count: random.whole(1, needed) }]
        : [],
    ),
    ...lengths.flatMap(({ kind }) =>
      random.percent(40)
        ? [
            {
              form: 'length' as const,
              code: `my-${kind}`,
              part: kind,
              count: random.whole(1, 2),
              lengthMm: random.whole(5, 40) * 100,
            },
          ]
        : [],
    ),
  ];
}

/** Ash sells what is needed; it is never shut out. */
function requestOf(
  random: Random,
  offers: readonly OfferInput[],
  { counted }: Requirements,
  on: RulesOn,
): Omit<RequestInput, 'looms'> {
  const others = SHOPS.slice(1);
  const insisted = on.insistOn ? random.pick(others) : undefined;
  const shut = on.shutOut ? random.pick(others.filter((shop) => shop !== insisted)) : undefined;
  const pinned = on.pinned ? random.pick(counted).part : undefined;
  return {
    ...(on.orders && random.percent(50) && { samples: random.whole(1, 3) }),
    ...(on.dates && { neededBy: random.pick(['2026-12-05', '2026-12-12', '2026-12-20']) }),
    ...(on.atMostSuppliers && { atMostSuppliers: random.whole(2, 4) }),
    ...(on.scarce && random.percent(70) && { atMostSuppliers: random.whole(1, 2) }),
    ...(insisted !== undefined && { insistOn: [insisted] }),
    ...(shut !== undefined && { shutOut: [shut] }),
    ...(pinned !== undefined && {
      pinned: [{ part: pinned, offer: random.pick(offers.filter((offer) => isOf(offer, pinned))).code }],
    }),
    ...(on.parcelNuisance && { parcelNuisance: money(random.whole(50, 400), 'GBP') }),
    settings: {
      oneColourOneSupplier: random.percent(50),
      ...(on.conditions && random.percent(50) && { conditionsAccepted: ['new', 'oldStock', 'used'] }),
    },
  };
}

const isOf = (offer: OfferInput, part: string) => offer.form !== 'kit' && offer.part === part;
