import type { Job } from '../../worker/engine/model/job.ts';
import { OPERATION_NAMES } from '../../worker/engine/model/labour.ts';
import { randomFrom } from '../sourcing/random.ts';
import { parsedJob } from '../sourcing/requirements.ts';
import {
  jobOf,
  partOf,
  type LoomWants,
  type OfferInput,
  type SupplierInput,
} from '../sourcing/whole/jobOf.ts';

/** A job of two or three looms with what the enumeration has to know of it. */
export interface LoomJob {
  job: Job;
  /** Each with the looms that it is for. */
  madeUp: { part: string; looms: string[] }[];
  /** Of a tool that is bought once where a loom with its family is built: pounds paid, and counted. */
  tool: { looms: string[]; paid: number; counted: [pence: number, over: number] };
  extras: number;
  cuttingMinutes: number;
  takingOffMinutes: number;
  hourPence: number;
}

const pence = (amount: number) => ({ amount: (amount / 100).toFixed(2), currency: 'GBP' });

/** Two shops at home and one abroad; parts, wire, a tool and made-up looms, for one loom or for two together. */
export function loomJob(seed: number): LoomJob {
  const random = randomFrom(seed);
  const codes = ['a', 'b', 'c'].slice(0, random.percent(75) ? 2 : 3);
  const waves = random.percent(15) ? 2 : 1;
  const looms: Record<string, LoomWants> = {};
  for (const code of codes)
    looms[code] = {
      wires: Array.from({ length: random.whole(0, 2) }, () => ({
        colour: 'red' as const,
        mm: random.whole(3, 20) * 100,
      })),
      counted: [
        { part: 'clip', quantity: random.whole(1, 4) },
        ...(random.percent(50) ? [{ part: 'lug', quantity: random.whole(1, 3) }] : []),
      ],
    };
  const lines = codes.map((loom, index) => ({
    loom,
    quantity: random.percent(30) ? 2 : 1,
    ...(waves === 2 && index > 0 ? { wave: 2 } : {}),
  }));
  const alike = (one: string, other: string) => {
    const [a, b] = [one, other].map((code) => lines.find(({ loom }) => loom === code));
    return a?.quantity === b?.quantity && a?.wave === b?.wave;
  };
  const madeUp = [
    ...codes.flatMap((code) =>
      Array.from({ length: random.pick([0, 1, 1, 1, 2]) }, (_, index) => ({
        part: `made-${code}${index}`,
        looms: [code],
      })),
    ),
    ...(random.percent(50) ? [{ part: 'made-ab', looms: ['a', 'b'] }] : []),
  ];
  const suppliers: SupplierInput[] = [
    ...['north', 'south'].map((code): SupplierInput => ({
      code,
      name: code,
      currency: 'GBP',
      country: 'GB',
      ...(random.percent(25) ? { minimumOrder: pence(random.whole(200, 600)) } : {}),
      postage: {
        by: 'value',
        bands: [
          { fromValue: pence(0), charge: pence(random.whole(100, 500)) },
          ...(random.percent(50) ? [{ fromValue: pence(random.whole(500, 1100)), charge: pence(0) }] : []),
        ],
      },
    })),
    {
      code: 'abroad',
      name: 'abroad',
      currency: 'GBP',
      country: 'FR',
      pricesInclude: 'noTax',
      postage: { by: 'value', bands: [{ fromValue: pence(0), charge: pence(random.whole(200, 900)) }] },
    },
  ];
  const packs = (part: string, price: number, from: readonly string[]): OfferInput[] =>
    from.map((supplier) => ({
      form: 'pack',
      code: `${part}-${supplier}`,
      supplier,
      part,
      packCount: part.startsWith('made') ? 1 : random.whole(2, 4),
      packPrice: pence(Math.round((price * random.whole(80, 120)) / 100)),
      ...(part.startsWith('made') && random.percent(15) ? { stockPacks: 1 } : {}),
      ...(random.percent(20) && !part.startsWith('made')
        ? { breaks: [{ fromPacks: 2, packPrice: pence(Math.round(price * 0.7)) }] }
        : {}),
    }));
  const some = () => random.pick([['north'], ['south'], ['abroad'], ['north', 'abroad']] as const);
  // Dearer than any threshold, so that a second one pays nowhere.
  const paid = random.whole(1500, 2200);
  const terms = random.pick([
    {},
    { sellsFor: pence(900) },
    { sharedOver: 3 },
    { sharedOver: 4, sellsFor: pence(600) },
  ]);
  const extras = random.percent(40) ? random.whole(100, 800) : 0;
  const [cuttingMinutes, takingOffMinutes] = [random.whole(0, 40), random.whole(0, 5)];
  const hourPence = random.pick([0, 600, 1200, 2000]);
  const job = jobOf(
    { looms, lines },
    {
      parts: [
        partOf('red', 'wire'),
        partOf('clip', 'clip'),
        partOf('clip', 'lug', { family: 'lugs' }),
        { kind: 'tool', code: 'pliers', description: 'Pliers', worksFamilies: ['lugs'] },
        ...madeUp.map(({ part, looms: forLooms }) => ({
          kind: 'madeUpLoom' as const,
          code: part,
          description: part,
          forLooms,
        })),
      ],
      suppliers,
      offers: [
        ...packs('clip', random.whole(150, 300), ['north', 'south']),
        ...packs('lug', random.whole(150, 400), ['south']),
        {
          form: 'metre',
          code: 'wire-north',
          supplier: 'north',
          part: 'wire',
          pricePerMetre: pence(random.whole(40, 120)),
          stepMm: 1000,
        },
        {
          form: 'pack',
          code: 'pliers-south',
          supplier: 'south',
          part: 'pliers',
          packCount: 1,
          packPrice: pence(paid),
        },
        ...madeUp.flatMap(({ part, looms: own }) =>
          packs(part, own.length * random.whole(400, 1600), some()),
        ),
      ],
      lanes: [
        {
          code: 'fr-gb',
          from: 'FR',
          to: 'GB',
          taxPercent: 20,
          dutyPercent: random.pick([0, 2.5]),
          sellerTaxPercent: 20,
          ...(random.percent(50) ? { clearanceFee: pence(350), clearanceOverValue: pence(1500) } : {}),
        },
      ],
      request: {
        buildOrBuy: {
          hourWorth: pence(hourPence),
          tools: [{ part: 'pliers', ...terms }],
          ...(extras > 0
            ? { extras: [{ description: 'gas', kind: 'consumable' as const, cost: pence(extras) }] }
            : {}),
        },
        settings: {
          labourMinutes: OPERATION_NAMES.map((operation) => ({
            operation,
            minutes: { cutting: cuttingMinutes, takingOff: takingOffMinutes }[operation as string] ?? 0,
          })),
        },
      },
    },
  );
  const left = paid - Math.round(Number(terms.sellsFor?.amount ?? 0) * 100);
  return {
    job,
    madeUp: madeUp.filter(({ looms: own }) => own.length === 1 || alike('a', 'b')),
    tool: {
      looms: codes.filter((code) => looms[code]?.counted?.some(({ part }) => part === 'lug')),
      paid,
      counted: [left, terms.sharedOver ?? 1],
    },
    extras,
    ...{ cuttingMinutes, takingOffMinutes, hourPence },
  };
}

/** The job in which these are bought made: their looms are left out, and a loom that is one bought part stands in their place. */
export function withBought(job: Job, bought: readonly { part: string; looms: string[] }[]): Job {
  const byFirst = new Map(bought.map(({ part, looms }) => [looms[0], part]));
  const replaced = new Set(bought.flatMap(({ looms }) => looms));
  const { buildOrBuy: _asked, ...request } = job.request;
  return parsedJob({
    ...job,
    looms: job.looms
      .filter(({ code }) => !replaced.has(code) || byFirst.has(code))
      .map((loom) =>
        replaced.has(loom.code)
          ? {
              ...loom,
              wires: [],
              parts: [{ part: byFirst.get(loom.code) ?? '', quantity: 1, supply: 'buy' as const }],
            }
          : loom,
      ),
    request: {
      ...request,
      looms: request.looms.filter(({ loom }) => !replaced.has(loom) || byFirst.has(loom)),
    },
  });
}
