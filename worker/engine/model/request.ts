import { z } from 'zod';
import { buildOrBuyFaults, BuildOrBuyRequest } from './buildOrBuyRequest.ts';
import { Buyer } from './buyer.ts';
import { byCode, Code, Day, Name, count } from './code.ts';
import { LIMITS } from './limits.ts';
import { Money } from './money.ts';
import { Settings } from './settings.ts';

const suppliers = z.array(Code).max(LIMITS.jobSuppliers).optional();

/** What POST /v1/quotes asks: which looms, how many of each, from whom and by when; settings over the club's and the looms'. */
export const requestShape = {
  looms: z
    .array(
      z.strictObject({
        loom: Code,
        revision: count(1).optional(),
        quantity: count(1, LIMITS.loomQuantity),
        options: z.array(Name).max(LIMITS.options).optional().meta({
          description: 'The options with which the loom is made. Left out: only what is always in the loom.',
        }),
        wave: count(1, LIMITS.waves).optional().meta({
          description:
            'The order with which it is bought. 1 is now; 2 and up are later orders, which can also use leftovers. Left out: 1.',
        }),
      }),
    )
    .min(1)
    .max(LIMITS.quoteLooms),
  samples: count(1, LIMITS.samples).optional().meta({
    description:
      'How many pieces of each counted part that only later looms need are bought with the first order.',
  }),
  neededBy: Day.optional().meta({
    description:
      'The day by which the first order must arrive, by the lead days of the supplier or the offer.',
  }),
  atMostSuppliers: count(1, LIMITS.jobSuppliers).optional(),
  shutOut: suppliers.meta({ description: 'Suppliers that are not used.' }),
  insistOn: suppliers.meta({ description: 'Suppliers that must be used: something is bought from each.' }),
  pinned: z
    .array(z.strictObject({ part: Code, offer: Code }))
    .max(LIMITS.loomParts)
    .optional()
    .meta({ description: 'Parts that are bought only from one named offer.' }),
  parcelNuisance: Money.optional().meta({
    description:
      'An amount that counts against each parcel when mixes are compared, for the trouble of one more parcel. Nobody is paid it.',
  }),
  useStock: z
    .boolean()
    .optional()
    .meta({ description: 'Whether your stock is used. false: nothing is taken from stock. Left out: true.' }),
  confirmedOnly: z.boolean().optional().meta({
    description:
      'true: only what is confirmed is bought. Proposed parts, proposed offers, and parts that nobody has confirmed as a stand-in are left out. Left out: false.',
  }),
  buyer: Buyer.optional().meta({
    description: 'Who orders. What it states is used instead of what the club’s buyer states.',
  }),
  reference: Name.optional().meta({ description: 'Your own name for the order, printed on order lists.' }),
  buildOrBuy: BuildOrBuyRequest.optional().meta({
    description:
      'Asks whether it is cheaper to build the looms or to buy them made. Left out: the quote is for building all of them.',
  }),
  settings: Settings.optional(),
};

type Request = z.infer<z.ZodObject<typeof requestShape>>;

interface Fault {
  code: string;
  path: PropertyKey[];
  message: string;
}

/** What is wrong in a request by itself, its shape being right. */
export function requestFaults(request: Request): Fault[] {
  return [
    ...loomFaults(request),
    ...waveFaults(request),
    ...supplierFaults(request),
    ...pinFaults(request),
    ...(request.buildOrBuy ? buildOrBuyFaults(request.buildOrBuy) : []),
  ];
}

type Line = Request['looms'][number];

export const waveOf = (line: Pick<Line, 'wave'>) => line.wave ?? 1;

/** The options chosen, as a set: each once, in byte order. */
export function optionsOf({ options = [] }: Pick<Line, 'options'>): string[] {
  return [...new Set(options)].sort(byCode);
}

function loomFaults({ looms }: Request): Fault[] {
  const revisions = new Map<string, number | undefined>();
  const seen = new Set<string>();
  return looms.flatMap((line, index): Fault[] => {
    // One without a loom is a fault of its own, already told.
    if (typeof line.loom !== 'string') return [];
    const key = JSON.stringify([waveOf(line), line.loom, optionsOf(line)]);
    const twice = seen.has(key);
    seen.add(key);
    if (twice)
      return [
        {
          code: 'duplicate-loom',
          path: ['looms', index, 'loom'],
          message: 'state a loom with the same options once in an order, with its whole quantity',
        },
      ];
    const known = revisions.has(line.loom);
    if (!known) revisions.set(line.loom, line.revision);
    return !known || revisions.get(line.loom) === line.revision
      ? []
      : [
          {
            code: 'loom-in-two-revisions',
            path: ['looms', index],
            message:
              'a quote uses one revision of a loom; give all its lines the same revision, or use two looms',
          },
        ];
  });
}

function waveFaults({ looms, samples }: Request): Fault[] {
  const waves = new Set(looms.map(waveOf));
  const last = Math.max(...waves);
  const faults: Fault[] = [];
  for (let wave = 1; wave < Math.min(last, LIMITS.waves); wave++)
    if (!waves.has(wave))
      faults.push({
        code: 'wave-missing',
        path: ['looms'],
        message: `there is an order ${last} but no order ${wave}; number the orders from 1 without a gap`,
      });
  if (samples !== undefined && last === 1)
    faults.push({
      code: 'samples-without-waves',
      path: ['samples'],
      message: 'samples need a later order; give a loom the wave 2, or leave this out',
    });
  return faults;
}

function supplierFaults({ atMostSuppliers, shutOut = [], insistOn = [] }: Request): Fault[] {
  const shut = new Set(shutOut);
  const faults = insistOn.flatMap((supplier, index): Fault[] =>
    shut.has(supplier)
      ? [
          {
            code: 'supplier-shut-out-and-insisted',
            path: ['insistOn', index],
            message: `${supplier} is in shutOut too; remove it from one of them`,
          },
        ]
      : [],
  );
  const insisted = new Set(insistOn).size;
  if (atMostSuppliers !== undefined && insisted > atMostSuppliers)
    faults.push({
      code: 'more-insisted-than-allowed',
      path: ['atMostSuppliers'],
      message: `atMostSuppliers is ${atMostSuppliers}, but insistOn names ${insisted}; allow more suppliers, or insist on fewer`,
    });
  return faults;
}

function pinFaults({ pinned = [] }: Request): Fault[] {
  const seen = new Set<string>();
  return pinned.flatMap(({ part }, index): Fault[] => {
    if (typeof part !== 'string') return [];
    const twice = seen.has(part);
    seen.add(part);
    return twice
      ? [
          {
            code: 'duplicate-pin',
            path: ['pinned', index, 'part'],
            message: `${part} is pinned twice; keep one of them`,
          },
        ]
      : [];
  });
}
