import type { Random } from '../../random.ts';
import { jobOf, partOf, type OfferInput, type RequestInput, type SupplierInput } from '../jobOf.ts';
import { chargesOf, money, packOf, type Making } from './make.ts';
import type { Theme } from './theme.ts';

/** What is asked of suppliers: few of them, none of some, some of others, few parcels. */
export const choosing: Theme = {
  name: 'choosing',
  rules: ['atMostSuppliers', 'shutOut', 'insistOn', 'parcelNuisance', 'stock', 'freeThreshold'],
  make: (random) => askingJob(random, (codes) => suppliersAsked(random, codes), false),
};

/** When it must be there, and what is bought of one offer alone. */
export const dates: Theme = {
  name: 'dates',
  rules: ['neededBy', 'offerLeadDays', 'pinned', 'breaks', 'stock'],
  make: (random) =>
    askingJob(
      random,
      (_, offers) => ({
        ...(random.percent(85) && { neededBy: random.pick(['2026-12-04', '2026-12-09', '2026-12-20']) }),
        ...(random.percent(80) && { pinned: pinsOf(random, offers) }),
      }),
      true,
    ),
};

function suppliersAsked(random: Random, codes: readonly string[]): Partial<RequestInput> {
  const [first = '', , third = ''] = codes;
  const shut = random.percent(75);
  const atMostSuppliers = random.pick([1, 1, 2]);
  return {
    ...(shut && { shutOut: [third] }),
    ...(random.percent(80) && { insistOn: [first] }),
    ...(random.percent(60) && { atMostSuppliers }),
    ...(random.percent(65) && { parcelNuisance: money(random.whole(20, 150), 'GBP') }),
  };
}

/** Pins one or two parts to an offer of theirs. */
function pinsOf(random: Random, offers: readonly OfferInput[]) {
  const parts = [...new Set(offers.flatMap((offer) => ('part' in offer ? [offer.part] : [])))];
  return parts.slice(0, random.whole(1, 2)).map((part) => ({
    part,
    offer: random.pick(offers.filter((offer) => 'part' in offer && offer.part === part)).code,
  }));
}

function askingJob(
  random: Random,
  requestOf: (codes: readonly string[], offers: readonly OfferInput[]) => Partial<RequestInput>,
  dated: boolean,
) {
  const suppliers = ['north', 'south', 'west'];
  const making: Making = { random, suppliers, currencyOf: () => 'GBP', rules: 20 };
  const requirements = ['a', 'b', 'c', 'd'].slice(0, random.pick([2, 2, 3, 3, 4])).map((part) => ({
    part,
    needed: random.whole(1, 5),
    piece: random.whole(40, 120),
  }));
  const lead = (often: number) => random.percent(often) && { leadDays: random.pick([2, 4, 5, 9, 10, 21]) };
  const most = requirements.length === 4 ? 2 : 3;
  const offers = requirements
    .flatMap((requirement) =>
      Array.from({ length: dated ? random.whole(2, most) : most }, (_, index) =>
        packOf(`${requirement.part}-${index}`, requirement.part, requirement, making),
      ),
    )
    .map((offer) => (dated ? { ...offer, ...lead(60) } : priced(offer)));
  return jobOf(
    {
      looms: { loom: { counted: requirements.map(({ part, needed }) => ({ part, quantity: needed })) } },
      lines: [{ loom: 'loom', quantity: 1 }],
    },
    {
      parts: requirements.map(({ part }) => partOf('clip', part)),
      suppliers: suppliers.map((code, index): SupplierInput => {
        // What is insisted on sells for anything, so that it can be done.
        const { minimumOrder, ...charges } = chargesOf(random, 'GBP', { often: 50, level: 60, value: 400 });
        return {
          code,
          name: code,
          currency: 'GBP',
          ...charges,
          ...(minimumOrder && index === 2 && { minimumOrder }),
          ...(dated && lead(70)),
        };
      }),
      offers,
      request: requestOf(suppliers, offers),
    },
  );
}

/** North is insisted on: it sells without end, and dear. West is shut out, and cheap. */
function priced(offer: OfferInput): OfferInput {
  if (offer.form !== 'pack' || offer.supplier === 'south') return offer;
  const { stockPacks, breaks, ...rest } = offer;
  const minor = Number(offer.packPrice.amount) * 100;
  if (offer.supplier === 'north') return { ...rest, packPrice: money(Math.ceil(minor * 2), 'GBP') };
  const packPrice = money(Math.ceil(minor * 0.75), 'GBP');
  return { ...rest, packPrice, ...(stockPacks !== undefined && { stockPacks }), ...(breaks && { breaks }) };
}
