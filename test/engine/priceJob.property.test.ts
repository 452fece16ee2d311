import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cutsOf } from '../../worker/engine/loom/lengths/totals.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import type { Job, JobLoom } from '../../worker/engine/model/job.ts';
import { isByLength } from '../../worker/engine/model/part.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { arbitraryJob, shuffled } from './arbitraryJob.ts';
import { priced } from './fixtures.ts';
import { sharedJobs } from './pricedOnce.ts';

/** What is found where nothing is bought for a cable or covering. */
const NOT_BOUGHT = new Set([
  'covering-not-chosen',
  'part-not-chosen',
  'length-not-stated',
  'counted-part-by-length',
  'tape-over-unknown',
]);
const NOTHING = { amount: '0.00' };
const SIDES = ['from', 'to'] as const;
/** What is found where a wire is in no metres. */
const NOT_IN_THE_METRES = new Set(['wire-without-length', 'functional-length-not-worked', 'way-broken']);
const { runs: RUNS, pricedOnce } = sharedJobs(30);
/** A price may have 4 decimals beyond the penny. */
const FINEST_PRICE = 0.01 / 10_000;

/** The looms that are asked for, each once with how many of it come with all orders. */
const askedOf = (job: Job): [JobLoom, number][] =>
  job.looms.flatMap((loom) => {
    const lines = job.request.looms.filter((line) => line.loom === loom.code);
    return lines.length > 0 ? [[loom, sum(lines.map(({ quantity }) => quantity))] as [JobLoom, number]] : [];
  });

/** How many of each part the loom's document names, counted straight from it; shared terminals once. */
function partsNamedIn(job: Job): Map<string, number> {
  const counts = new Map<string, number>();
  for (const [loom, quantity] of askedOf(job)) {
    const add = (part: string | undefined, each: number) => {
      if (part !== undefined) counts.set(part, (counts.get(part) ?? 0) + each * quantity);
    };
    loom.points.forEach((point) => add(point.part, 1));
    loom.fittings.forEach((fitting) => add(fitting.part, fitting.quantity));
    loom.parts.forEach((part) => add(part.part, part.quantity));
    const seen = new Set<string>();
    for (const wire of loom.wires)
      for (const side of SIDES) {
        const end = wire[side];
        add(end.seal?.part, 1);
        add(end.label?.part, 1);
        const shared = end.sharesTerminal === undefined ? undefined : `${end.point} ${end.sharesTerminal}`;
        const cover = shared === undefined ? undefined : `${shared} ${end.cover?.part ?? ''}`;
        if (cover === undefined || !seen.has(cover)) add(end.cover?.part, 1);
        if (cover !== undefined) seen.add(cover);
        if (!end.terminal || (shared !== undefined && seen.has(shared))) continue;
        if (shared !== undefined) seen.add(shared);
        add(end.terminal.part, 1);
      }
  }
  return counts;
}

const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);

/** Amounts of two decimals as whole pence. */
const pence = (amount: string) => {
  expect(amount).toMatch(/^-?\d+\.\d\d$/);
  return Number(amount.replace('.', ''));
};

test('every wire of the looms asked for stands once: in the metres, left out, or in a finding', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const pieces = result.requirements.flatMap((requirement) =>
        requirement.kind === 'wire' ? requirement.pieces : [],
      );
      for (const [loom, quantity] of askedOf(job))
        for (const { id, supply, inCable } of loom.wires) {
          // A core is bought with its cable.
          if (inCable !== undefined) continue;
          const own = pieces.filter((piece) => piece.loom === loom.code && piece.wire === id);
          const left = result.leftOut.flatMap(({ where }) =>
            where.filter((place) => place.loom === loom.code && place.where === `wire ${id}`),
          );
          const said = result.findings.filter(
            ({ where, code }) => where === `loom ${loom.code}, wire ${id}` && NOT_IN_THE_METRES.has(code),
          );
          expect(own.length + left.length + said.length).toBe(1);
          expect(left.length).toBe(supply === 'buy' ? 0 : 1);
          expect(own.every((piece) => piece.count === quantity)).toBe(true);
        }
    }),
    RUNS,
  );
});

test('every cable and covering stands once: in a requirement, left out, or in a finding; each core with its cable', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const pieces = result.requirements.flatMap((requirement) =>
        requirement.kind === 'length' ? requirement.pieces : [],
      );
      for (const [loom, quantity] of askedOf(job)) {
        const names = [
          ...loom.cables.map(({ id }) => `cable ${id}`),
          ...loom.coverings.map(({ id }) => `covering ${id}`),
        ];
        for (const name of names) {
          const own = pieces.filter((piece) => piece.loom === loom.code && piece.what === name);
          const left = result.leftOut.flatMap(({ where }) =>
            where.filter((place) => place.loom === loom.code && place.where === name),
          );
          const said = result.findings.filter(
            ({ where, code }) => where === `loom ${loom.code}, ${name}` && NOT_BOUGHT.has(code),
          );
          expect(own.length + left.length + said.length).toBe(1);
          expect(own.every((piece) => piece.count === quantity)).toBe(true);
        }
        for (const { what, cores = [] } of pieces.filter((piece) => piece.loom === loom.code))
          for (const core of cores)
            expect(loom.wires.find(({ id }) => id === core)?.inCable).toBe(what.replace('cable ', ''));
      }
    }),
    RUNS,
  );
});

test('the pieces cut are the pieces needed, and no length gives more than it has', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { requirements, cuttingPlans } = await pricedOnce(job);
      for (const { requirement, lengths } of cuttingPlans) {
        const rolledUp = requirements.find(({ id }) => id === requirement);
        if (!rolledUp || rolledUp.kind === 'count') continue;
        const several = job.request.looms.some(({ wave = 1 }) => wave > 1);
        const wanted = new Map<number, number>();
        // With several orders the spares come as the orders ask, in other pieces than all at once.
        for (const { cutMm, count } of several ? rolledUp.pieces : cutsOf(rolledUp))
          wanted.set(cutMm, (wanted.get(cutMm) ?? 0) + count);
        const cut = new Map<number, number>();
        for (const { lengths: alike, pieces, usableMm, offcutMm } of lengths) {
          for (const { cutMm, count } of pieces) cut.set(cutMm, (cut.get(cutMm) ?? 0) + alike * count);
          expect(sum(pieces.map(({ cutMm, count }) => cutMm * count)) + offcutMm).toBe(usableMm);
          expect(offcutMm).toBeGreaterThanOrEqual(0);
        }
        if (several) {
          for (const [mm, count] of wanted) expect(cut.get(mm)).toBeGreaterThanOrEqual(count);
          expect(sum([...cut].map(([mm, count]) => mm * count))).toBeGreaterThanOrEqual(rolledUp.totalMm);
        } else expect([...cut].sort(([a], [b]) => a - b)).toEqual([...wanted].sort(([a], [b]) => a - b));
      }
    }),
    RUNS,
  );
});

test('each parcel’s postage and handling, and its tax, duty and fee, are shared out over its lines to the penny', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { purchases, orderLists } = await pricedOnce(job);
      for (const { cost, postageShare, taxShare = NOTHING, delivered } of purchases)
        expect(sum([cost, postageShare, taxShare].map(({ amount }) => pence(amount)))).toBe(
          pence(delivered.amount),
        );
      for (const { supplier, wave, postage, handling, ...list } of orderLists) {
        const own = purchases.filter((line) => line.supplier === supplier && line.wave === wave);
        const all = (amounts: { amount: string }[]) => sum(amounts.map(({ amount }) => pence(amount)));
        expect(all(own.map((line) => line.postageShare))).toBe(all([postage, handling]));
        // Each of the list's lines is rounded by itself, as these shares are.
        const { tax, duty, importTax, clearance } = list;
        expect(all(own.map(({ taxShare = NOTHING }) => taxShare))).toBe(
          all([tax, duty, importTax, clearance].flatMap((amount) => amount ?? [])),
        );
      }
    }),
    RUNS,
  );
});

test('every part that a loom names is counted once: needed, left out, or in a finding for its kind', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const kinds = new Map(job.parts.map((part) => [part.code, part.kind]));
      for (const [part, count] of partsNamedIn(job)) {
        const kind = kinds.get(part);
        const needed = sum(
          result.requirements.map((requirement) =>
            requirement.kind === 'count' && requirement.part === part ? requirement.used : 0,
          ),
        );
        const left = sum(result.leftOut.map((line) => (line.part === part ? (line.quantity ?? 0) : 0)));
        const said = result.findings.some(
          ({ code, found }) => code === 'length-part-counted' && found.startsWith(`${part} `),
        );
        if (kind !== undefined && isByLength(kind)) expect([needed, left, said]).toEqual([0, 0, true]);
        else expect([needed + left, said]).toEqual([count, false]);
      }
    }),
    RUNS,
  );
});

test('the sums of a requirement hold: pieces make the metres, uses and spares the count', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      for (const requirement of (await pricedOnce(job)).requirements)
        if (requirement.kind !== 'count') {
          expect(sum(cutsOf(requirement).map(({ count, cutMm }) => count * cutMm))).toBe(requirement.totalMm);
          expect(requirement.steps.at(-1)?.value).toBe(requirement.totalMm);
        } else {
          // Of a tool one is enough, whatever it is used for.
          if (requirement.id.startsWith('tool:'))
            expect([requirement.uses, requirement.used]).toEqual([[], 1]);
          else expect(sum(requirement.uses.map(({ total }) => total))).toBe(requirement.used);
          expect(requirement.used + requirement.spares).toBe(requirement.quantity);
          expect(requirement.steps.at(-1)?.value).toBe(requirement.quantity);
        }
    }),
    RUNS,
  );
});

test('each requirement is bought, taken off the shelf, or unsourced', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { requirements, purchases, fromStock, unsourced } = await pricedOnce(job);
      const got = new Set([
        ...purchases.flatMap(({ requirement, alsoFor = [] }) => [requirement, ...alsoFor]),
        ...fromStock.map(({ requirement }) => requirement),
      ]);
      const missing = unsourced.map(({ requirement }) => requirement);
      expect([...got, ...missing].sort()).toEqual(requirements.map(({ id }) => id).sort());
    }),
    RUNS,
  );
});

test('printed lines sum to goods, goods with postage and rounding to totals, and totals to the quote', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { orderLists, costs, comparisons, proof, purchases } = await pricedOnce(job);
      for (const list of orderLists) {
        expect(sum(list.lines.map(({ cost }) => pence(cost.amount)))).toBe(pence(list.goods.amount));
        const { postage, handling, tax, duty, importTax, clearance, rounding } = list;
        const added = [postage, handling, tax, duty, importTax, clearance, rounding].map((amount) =>
          pence((amount ?? NOTHING).amount),
        );
        expect(pence(list.goods.amount) + sum(added)).toBe(pence(list.total.amount));
      }
      const total = pence(costs.total.amount);
      expect(sum(orderLists.map((list) => pence(list.total.amount)))).toBe(total);
      expect(sum(costs.lines.map(({ amount }) => pence(amount.amount)))).toBe(total);
      expect(orderLists.flatMap(({ lines }) => lines)).toHaveLength(purchases.length);
      for (const other of comparisons)
        expect(pence(other.total.amount) - pence(other.saving.amount)).toBe(total);
      // Rounded once a parcel, half a penny each at the most; a nuisance is paid to nobody.
      const paid = Number(proof.cost.amount) - Number(proof.nuisance?.amount ?? 0);
      expect(Math.abs(total - paid * 100)).toBeLessThanOrEqual(orderLists.length / 2 + 1e-6);
    }),
    RUNS,
  );
});

test('with all the time there is, the answer is proven and no dearer than each line at its cheapest', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { proof, comparisons, orderLists, fromStock } = await pricedOnce(job);
      const isNothing = orderLists.length === 0 && fromStock.length === 0;
      expect(proof.status).toBe(isNothing ? 'nothingToBuy' : 'proven');
      // With rates of exchange costs may lie nearer together than any prices do: closer than these a bound need not come.
      expect(Number(proof.bound.amount)).toBeLessThanOrEqual(Number(proof.cost.amount));
      expect(Number(proof.gap.amount)).toBeLessThan(FINEST_PRICE);
      // Nuisances count beside what is paid; those of the other way are no more than one a supplier.
      const nuisance = Number(proof.nuisance?.amount ?? 0) * 100;
      const each = orderLists.length === 0 ? 0 : nuisance / orderLists.length;
      const asked = job.request.insistOn?.length
        ? 'one shop is not asked for what is insisted on'
        : undefined;
      for (const { kind, saving, suppliers, unsourced } of comparisons)
        if (unsourced === 0 && (kind === 'cheapestSinglePrices' || (asked === undefined && nuisance === 0)))
          // A penny of rounding for each parcel may stand the other way.
          expect(pence(saving.amount) + suppliers * each - nuisance).toBeGreaterThanOrEqual(
            -suppliers - orderLists.length,
          );
    }),
    RUNS,
  );
});

test('the same job in any order of its lists and fields gives the same bytes', async () => {
  await fc.assert(
    fc.asyncProperty(
      arbitraryJob,
      fc.infiniteStream(fc.double({ min: 0, max: 0.999999, noNaN: true })),
      async (job, stream) => {
        const random = () => stream.next().value as number;
        expect(canonicalJson(await priced(shuffled(job, random)))).toBe(canonicalJson(await pricedOnce(job)));
      },
    ),
    RUNS,
  );
});

test('what the request cannot reach changes no byte', async () => {
  const pounds = (amount: string) => ({ amount, currency: 'GBP' });
  const beside = (job: Job): Job => ({
    ...job,
    parts: [
      ...job.parts,
      { kind: 'consumable', code: 'aaa', description: 'Not asked for', family: 'fam-z' },
      { kind: 'consumable', code: 'zzz', description: 'In its place', standsInFor: [{ part: 'aaa' }] },
      { kind: 'tool', code: 'aab', description: 'Its tool', worksFamilies: ['fam-z'] },
    ],
    suppliers: [
      ...job.suppliers,
      { code: 'aaa', name: 'Sells what is not asked for', currency: 'SEK', country: 'SE' },
    ],
    offers: [
      ...job.offers,
      {
        form: 'pack',
        code: 'aaa',
        supplier: 'aaa',
        part: 'aaa',
        packCount: 1,
        packPrice: { amount: '1', currency: 'SEK' },
        condition: 'new',
        minimumPacks: 1,
        stepPacks: 1,
      },
    ],
    fits: [{ from: 'zzz', relation: 'standsInFor', to: 'aaa', status: 'confirmed' }, ...job.fits],
    rates: [
      { code: 'aaa', currency: 'SEK', on: '2026-03-01', rate: '0.08' },
      { code: 'aab', currency: 'EUR', on: '2025-03-01', rate: '7' },
      { code: 'aac', currency: 'EUR', on: '2027-03-01', rate: '8' },
      ...job.rates,
    ],
    lanes: [
      ...job.lanes,
      {
        code: 'aaa',
        from: 'SE',
        to: 'GB',
        taxPercent: 20,
        dutyPercent: 0,
        sellerTaxPercent: 25,
        clearanceFee: pounds('8'),
        dutyOn: 'goods',
        valueIs: 'goods',
        exactlyThere: 'free',
      },
    ],
    stock: [{ code: 'aaa', form: 'pieces', part: 'aaa', count: 4 }, ...job.stock],
    request: {
      ...job.request,
      ...(job.request.shutOut ? { shutOut: ['aaa', ...job.request.shutOut] } : {}),
    },
  });
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      expect(canonicalJson(await priced(beside(job)))).toBe(canonicalJson(await pricedOnce(job)));
    }),
    RUNS,
  );
});

test('findings stand with the gravest first', async () => {
  const rank: Record<Result['findings'][number]['severity'], number> = { stop: 0, warning: 1, note: 2 };
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const ranks = (await pricedOnce(job)).findings.map(({ severity }) => rank[severity]);
      expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    }),
    RUNS,
  );
});
