import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cutsOf } from '../../worker/engine/loom/totals.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import type { Job, JobLoom } from '../../worker/engine/model/job.ts';
import { isByLength } from '../../worker/engine/model/part.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { arbitraryJob, shuffled } from './arbitraryJob.ts';
import { priced } from './fixtures.ts';

/** What is found where nothing is bought for a cable or covering. */
const NOT_BOUGHT = new Set([
  'covering-not-chosen',
  'part-not-chosen',
  'length-not-stated',
  'counted-part-by-length',
  'tape-over-unknown',
]);
const SIDES = ['from', 'to'] as const;
/** What is found where a wire is in no metres. */
const NOT_IN_THE_METRES = new Set(['wire-without-length', 'functional-length-not-worked', 'way-broken']);
const RUNS = { numRuns: 60 };

const askedOf = (job: Job): [JobLoom, number][] =>
  job.request.looms.flatMap(({ loom, quantity }) => {
    const found = job.looms.find(({ code }) => code === loom);
    return found ? [[found, quantity] as [JobLoom, number]] : [];
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
        add(end.cover?.part, 1);
        add(end.label?.part, 1);
        const shared = end.sharesTerminal === undefined ? undefined : `${end.point} ${end.sharesTerminal}`;
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
      const result = await priced(job);
      const pieces = result.requirements.flatMap((need) => (need.kind === 'wire' ? need.pieces : []));
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
      const result = await priced(job);
      const pieces = result.requirements.flatMap((need) => (need.kind === 'length' ? need.pieces : []));
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
      const { requirements, cuttingPlans } = await priced(job);
      for (const { requirement, lengths } of cuttingPlans) {
        const need = requirements.find(({ id }) => id === requirement);
        const wanted = new Map<number, number>();
        if (need && need.kind !== 'count')
          for (const { cutMm, count } of cutsOf(need)) wanted.set(cutMm, (wanted.get(cutMm) ?? 0) + count);
        const cut = new Map<number, number>();
        for (const { lengths: alike, pieces, usableMm, offcutMm } of lengths) {
          for (const { cutMm, count } of pieces) cut.set(cutMm, (cut.get(cutMm) ?? 0) + alike * count);
          expect(sum(pieces.map(({ cutMm, count }) => cutMm * count)) + offcutMm).toBe(usableMm);
          expect(offcutMm).toBeGreaterThanOrEqual(0);
        }
        expect([...cut].sort(([a], [b]) => a - b)).toEqual([...wanted].sort(([a], [b]) => a - b));
      }
    }),
    RUNS,
  );
});

test('each supplier’s postage and handling are shared out over its lines to the penny', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { purchases, orderLists } = await priced(job);
      for (const { cost, postageShare, delivered } of purchases)
        expect(pence(cost.amount) + pence(postageShare.amount)).toBe(pence(delivered.amount));
      for (const { supplier, postage, handling } of orderLists) {
        const shares = purchases
          .filter((line) => line.supplier === supplier)
          .map((line) => line.postageShare);
        expect(sum(shares.map(({ amount }) => pence(amount)))).toBe(
          pence(postage.amount) + pence(handling.amount),
        );
      }
    }),
    RUNS,
  );
});

test('every part that a loom names is counted once: needed, left out, or in a finding for its kind', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await priced(job);
      const kinds = new Map(job.parts.map((part) => [part.code, part.kind]));
      for (const [part, count] of partsNamedIn(job)) {
        const kind = kinds.get(part);
        const needed = sum(
          result.requirements.map((need) => (need.kind === 'count' && need.part === part ? need.used : 0)),
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
      for (const need of (await priced(job)).requirements)
        if (need.kind !== 'count') {
          expect(sum(cutsOf(need).map(({ count, cutMm }) => count * cutMm))).toBe(need.totalMm);
          expect(need.steps.at(-1)?.value).toBe(need.totalMm);
        } else {
          expect(sum(need.uses.map(({ total }) => total))).toBe(need.used);
          expect(need.used + need.spares).toBe(need.quantity);
          expect(need.steps.at(-1)?.value).toBe(need.quantity);
        }
    }),
    RUNS,
  );
});

/** How much of a need a purchase brings. */
function amountFor(
  need: Result['requirements'][number],
  bought: Result['purchases'][number]['bought'],
): number {
  switch (bought.form) {
    case 'pack':
      return bought.pieces;
    case 'metre':
      return bought.lengthMm;
    case 'length':
      return bought.packs * bought.usableMm;
    case 'kit': {
      const each = bought.contents.find((content) => need.kind === 'count' && content.part === need.part);
      return bought.packs * (each?.quantity ?? 0);
    }
  }
}

test('what is bought covers each requirement by its offers’ own rules, and each is bought or unsourced', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await priced(job);
      const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
      for (const need of result.requirements) {
        const own = result.purchases.filter(
          ({ requirement, alsoFor = [] }) => requirement === need.id || alsoFor.includes(need.id),
        );
        const missing = result.unsourced.some(({ requirement }) => requirement === need.id);
        expect(own.length > 0).toBe(!missing);
        if (missing) continue;
        for (const { offer: code, part, bought } of own) {
          const offer = offers.get(code);
          if (bought.form !== 'kit') expect(need.servedBy).toContain(part);
          if (bought.form !== 'metre' && offer && offer.form !== 'metre') {
            expect(bought.packs).toBeGreaterThanOrEqual(offer.minimumPacks);
            expect(bought.packs % offer.stepPacks).toBe(0);
            expect(bought.packs).toBeLessThanOrEqual(offer.stockPacks ?? Infinity);
          }
          if (bought.form === 'metre' && offer?.form === 'metre') {
            expect(bought.lengthMm % offer.stepMm).toBe(0);
            expect(bought.lengthMm).toBeGreaterThanOrEqual(offer.minimumMm);
          }
        }
        const got = sum(own.map(({ bought }) => amountFor(need, bought)));
        expect(got).toBeGreaterThanOrEqual(need.kind === 'count' ? need.quantity : need.totalMm);
      }
    }),
    RUNS,
  );
});

test('printed lines sum to goods, goods with postage and rounding to totals, and totals to the quote', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { orderLists, costs, comparisons, proof, purchases } = await priced(job);
      for (const list of orderLists) {
        expect(sum(list.lines.map(({ cost }) => pence(cost.amount)))).toBe(pence(list.goods.amount));
        const added = [list.postage, list.handling, list.rounding].map(({ amount }) => pence(amount));
        expect(pence(list.goods.amount) + sum(added)).toBe(pence(list.total.amount));
      }
      const total = pence(costs.total.amount);
      expect(sum(orderLists.map((list) => pence(list.total.amount)))).toBe(total);
      expect(sum(costs.lines.map(({ amount }) => pence(amount.amount)))).toBe(total);
      expect(orderLists.flatMap(({ lines }) => lines)).toHaveLength(purchases.length);
      for (const other of comparisons)
        expect(pence(other.total.amount) - pence(other.saving.amount)).toBe(total);
      // Rounded once a supplier, half a penny each at the most.
      expect(Math.abs(total - Number(proof.cost.amount) * 100)).toBeLessThanOrEqual(
        orderLists.length / 2 + 1e-6,
      );
    }),
    RUNS,
  );
});

test('with all the time there is, the answer is proven and no dearer than each line at its cheapest', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { proof, comparisons, orderLists } = await priced(job);
      expect(proof.status).toBe(orderLists.length === 0 ? 'nothingToBuy' : 'proven');
      expect(proof.bound).toEqual(proof.cost);
      // A penny of rounding for each supplier may stand the other way.
      for (const { saving, suppliers, unsourced } of comparisons)
        if (unsourced === 0)
          expect(pence(saving.amount)).toBeGreaterThanOrEqual(-suppliers - orderLists.length);
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
        expect(canonicalJson(await priced(shuffled(job, random)))).toBe(canonicalJson(await priced(job)));
      },
    ),
    RUNS,
  );
});

test('what the request cannot reach changes no byte', async () => {
  const beside = (job: Job): Job => ({
    ...job,
    parts: [...job.parts, { kind: 'consumable', code: 'aaa', description: 'Not asked for' }],
    suppliers: [...job.suppliers, { code: 'aaa', name: 'Sells what is not asked for', currency: 'GBP' }],
    offers: [
      ...job.offers,
      {
        form: 'pack',
        code: 'aaa',
        supplier: 'aaa',
        part: 'aaa',
        packCount: 1,
        packPrice: { amount: '1', currency: 'GBP' },
        condition: 'new',
        minimumPacks: 1,
        stepPacks: 1,
      },
    ],
  });
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      expect(canonicalJson(await priced(beside(job)))).toBe(canonicalJson(await priced(job)));
    }),
    RUNS,
  );
});

test('findings stand with the gravest first', async () => {
  const rank: Record<Result['findings'][number]['severity'], number> = { stop: 0, warning: 1, note: 2 };
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const ranks = (await priced(job)).findings.map(({ severity }) => rank[severity]);
      expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    }),
    RUNS,
  );
});
