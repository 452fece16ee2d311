import { priceJob } from '../../worker/engine/engine.ts';
import type { Control } from '../../worker/engine/model/control.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { Result } from '../../worker/engine/model/result.ts';

type LoomInput = JobInput['looms'][number];
type WireInput = NonNullable<LoomInput['wires']>[number];
type EndInput = WireInput['from'];
type PartInput = JobInput['parts'][number];
type OfferInput = JobInput['offers'][number];
type SupplierInput = JobInput['suppliers'][number];

/** All the time there is, never cancelled. */
export const unhurried: Control = {
  remainingMs: () => Infinity,
  cancelled: () => false,
  report: () => undefined,
};

export const gbp = (amount: string) => ({ amount, currency: 'GBP' });

/** No wire or sleeve beyond the pieces, so that sums are those of the pieces; nothing beside the cheapest, which has tests of its own. */
const noSpareLengths = { spareWirePercent: 0, spareCoveringPercent: 0, besideSeconds: 0 };

/** A job of one loom "l"; what is given replaces the empty lists. */
export function jobOf(given: Partial<JobInput> & { loom?: Partial<LoomInput>; quantity?: number }): Job {
  const { loom, quantity = 1, ...rest } = given;
  return Job.parse({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-03-02',
    club: { currency: 'GBP', settings: noSpareLengths },
    parts: [],
    suppliers: [],
    offers: [],
    looms: [{ code: 'l', name: 'Test loom', ...loom }],
    request: { looms: [{ loom: 'l', quantity }] },
    ...rest,
  } satisfies JobInput);
}

/** Prices a job and checks that the result has the shape that it promises. */
export async function priced(job: Job, control: Control = unhurried): Promise<Result> {
  return Result.parse(await priceJob(job, control));
}

export const mm2 = (areaMm2: number) => ({ system: 'mm2' as const, areaMm2 });

/** A wire of thin-wall 1 mm² from point A to point B, 1000 mm along its route. */
export function wire(id: string, given: Partial<WireInput> = {}): WireInput {
  return {
    id,
    cableType: 'thin-wall',
    size: mm2(1),
    colour: { base: 'red' },
    from: bare('A'),
    to: bare('B'),
    length: { mm: 1000, basis: 'route' },
    ...given,
  };
}

export const bare = (point: string): EndInput => ({ point, join: 'bare' });
export const crimped = (point: string, terminal: string, more: Partial<EndInput> = {}): EndInput => ({
  point,
  join: 'crimp',
  terminal: { part: terminal },
  ...more,
});

export const points = (...ids: string[]) => ids.map((id) => ({ id, kind: 'connector' as const }));

export const consumable = (code: string): PartInput => ({
  kind: 'consumable',
  code,
  description: `Part ${code}`,
});
export const terminal = (code: string): PartInput => ({
  kind: 'terminal',
  code,
  description: `Terminal ${code}`,
  terminalType: 'ring',
});
export const wirePart = (code: string, base: 'red' | 'black' | 'green' = 'red'): PartInput => ({
  kind: 'wire',
  code,
  description: `Wire ${code}`,
  cableType: 'thin-wall',
  size: mm2(1),
  colour: { base },
});

/** A supplier; bands as [from, charge] in pounds. */
export const supplier = (code: string, ...bands: [from: string, charge: string][]): SupplierInput => ({
  code,
  name: `Supplier ${code}`,
  currency: 'GBP',
  ...(bands.length === 0
    ? {}
    : {
        postage: {
          by: 'value',
          bands: bands.map(([from, charge]) => ({ fromValue: gbp(from), charge: gbp(charge) })),
        },
      }),
});

export const pack = (
  code: string,
  from: string,
  part: string,
  packCount: number,
  price: string,
  more: object = {},
): OfferInput => ({ form: 'pack', code, supplier: from, part, packCount, packPrice: gbp(price), ...more });

export const byTheMetre = (
  code: string,
  from: string,
  part: string,
  price: string,
  more: object = {},
): OfferInput => ({ form: 'metre', code, supplier: from, part, pricePerMetre: gbp(price), ...more });

/** The purchases in short: offer → packs, kits, lengths, or millimetres by the metre. */
export function bought(result: Result): Record<string, number> {
  return Object.fromEntries(
    result.purchases.map(({ offer, bought: amount }) => [
      offer,
      amount.form === 'metre' ? amount.lengthMm : amount.packs,
    ]),
  );
}

/** So many of each part, and nothing else. */
export function needing(
  requirements: Record<string, number>,
  suppliers: SupplierInput[],
  offers: OfferInput[],
  more: Partial<JobInput> = {},
): Job {
  return jobOf({
    parts: Object.keys(requirements).map(consumable),
    suppliers,
    offers,
    loom: { parts: Object.entries(requirements).map(([part, quantity]) => ({ part, quantity })) },
    ...more,
  });
}
