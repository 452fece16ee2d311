import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { randomFrom } from '../sourcing/random.ts';

/** An offer in pence: packs of so many, a price a pack, and a lower one from so many packs. */
export interface PackOffer {
  code: string;
  supplier: string;
  part: string;
  count: number;
  price: number;
  break?: { from: number; price: number } | undefined;
}

/** Postage by value: a charge from each value on, and a least order. All in pence. */
export interface PackSupplier {
  code: string;
  minimum: number;
  bands: { from: number; charge: number }[];
}

export interface PackJob {
  requirements: { part: string; quantity: number }[];
  suppliers: PackSupplier[];
  offers: PackOffer[];
}

/** Three suppliers who sell up to four parts in packs, with breaks, minimum orders, and postage that falls or rises with value. */
export function packJob(seed: number): PackJob {
  const random = randomFrom(seed);
  const requirements = ['a', 'b', 'c', 'd']
    .slice(0, random.whole(2, 4))
    .map((part) => ({ part, quantity: random.whole(2, 9) }));
  const suppliers = ['north', 'south', 'west'].map((code): PackSupplier => {
    const charge = random.whole(50, 350);
    const later = random.pick([[], [0], [0], [charge + 150, 0], [charge + 100]]);
    const first = random.whole(400, 900);
    return {
      code,
      minimum: random.percent(25) ? random.whole(150, 400) : 0,
      bands: [
        { from: 0, charge },
        ...later.map((next, index) => ({ from: first + 350 * index, charge: next })),
      ],
    };
  });
  const offers = requirements.flatMap(({ part }) =>
    suppliers.flatMap(({ code: supplier }) =>
      Array.from({ length: random.pick([1, 1, 1, 2]) }, (_, index): PackOffer => {
        const count = random.whole(1, 4);
        const price = count * random.whole(90, 140) + random.whole(0, 20);
        return {
          code: `${part}-${supplier}-${index}`,
          supplier,
          part,
          count,
          price,
          break: random.percent(30)
            ? { from: random.whole(2, 3), price: Math.floor(price * 0.8) }
            : undefined,
        };
      }),
    ),
  );
  return { requirements, suppliers, offers };
}

const gbp = (pence: number) => ({ amount: (pence / 100).toFixed(2), currency: 'GBP' });

export function jobOfPacks({ requirements, suppliers, offers }: PackJob): Job {
  return Job.parse({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-20',
    club: { currency: 'GBP' },
    parts: requirements.map(({ part }) => ({ kind: 'consumable', code: part, description: part })),
    suppliers: suppliers.map(({ code, minimum, bands }) => ({
      code,
      name: code,
      currency: 'GBP',
      ...(minimum > 0 ? { minimumOrder: gbp(minimum) } : {}),
      postage: {
        by: 'value' as const,
        bands: bands.map(({ from, charge }) => ({ fromValue: gbp(from), charge: gbp(charge) })),
      },
    })),
    offers: offers.map(({ code, supplier, part, count, price, break: lower }) => ({
      form: 'pack' as const,
      code,
      supplier,
      part,
      packCount: count,
      packPrice: gbp(price),
      ...(lower ? { breaks: [{ fromPacks: lower.from, packPrice: gbp(lower.price) }] } : {}),
    })),
    looms: [
      { code: 'loom', name: 'A loom', parts: requirements.map(({ part, quantity }) => ({ part, quantity })) },
    ],
    request: { looms: [{ loom: 'loom', quantity: 1 }], settings: { besideSeconds: 60 } },
  } satisfies JobInput);
}

export type Units = Readonly<Record<string, number>>;

/** What packs of these offers come to, delivered, pence; undefined where a supplier does not send so little. */
export function deliveredPence({ suppliers, offers }: PackJob, units: Units): number | undefined {
  let sum = 0;
  for (const { code, minimum, bands } of suppliers) {
    const own = offers.filter(({ supplier, code: offer }) => supplier === code && (units[offer] ?? 0) > 0);
    if (own.length === 0) continue;
    const goods = own.reduce((total, { code: offer, price, break: lower }) => {
      const packs = units[offer] ?? 0;
      return total + packs * (lower && packs >= lower.from ? lower.price : price);
    }, 0);
    if (goods < minimum) return undefined;
    sum += goods + (bands.findLast(({ from }) => from <= goods)?.charge ?? 0);
  }
  return sum;
}

/** Whether every need is met by packs of these offers. */
export function meets({ requirements, offers }: PackJob, units: Units): boolean {
  return requirements.every(
    ({ part, quantity }) =>
      offers
        .filter((offer) => offer.part === part)
        .reduce((pieces, { code, count }) => pieces + count * (units[code] ?? 0), 0) >= quantity,
  );
}

/** Every number of packs, up to so many, of each of these offers. */
export function* everyWay(codes: readonly string[], most: number): Generator<Units> {
  const [first, ...rest] = codes;
  if (first === undefined) {
    yield {};
    return;
  }
  for (let packs = 0; packs <= most; packs++)
    for (const others of everyWay(rest, most)) yield { ...others, [first]: packs };
}
