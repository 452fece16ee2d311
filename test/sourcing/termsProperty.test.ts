import fc from 'fast-check';
import { expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import type { Requirement, Result } from '../../worker/engine/model/result.ts';
import { arbitraryJob } from '../engine/arbitraryJob.ts';
import { unhurried } from '../engine/fixtures.ts';
import { isCovered, servingOf, type Supply, type Want } from '../engine/isCovered.ts';
import { parcelCost, printed } from '../engine/parcelCost.ts';
import { sharedJobs } from '../engine/pricedOnce.ts';
import { fromDecimal, plus, ratio, compare } from './whole/ratio.ts';

const { runs: RUNS, pricedOnce } = sharedJobs(30);

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const wavesOf = (job: Job) => Math.max(...job.request.looms.map(({ wave = 1 }) => wave));
const isTool = ({ id }: Pick<Requirement, 'id'>) => id.startsWith('tool:');

/** What the looms of the first order, of the first two … need together, each order rolled up by itself. */
function neededBy(job: Job): Map<string, Requirement>[] {
  return Array.from({ length: wavesOf(job) }, (_, index) => {
    const looms = job.request.looms.filter(({ wave = 1 }) => wave <= index + 1);
    const { requirements } = rollUp(normaliseJob({ ...job, request: { ...job.request, looms } }), unhurried);
    return new Map(requirements.map((requirement) => [requirement.id, requirement]));
  });
}

const bare = (job: Job, result: Result) => {
  const missing = new Set(result.unsourced.map(({ requirement }) => requirement));
  return { byWave: neededBy(job), serves: servingOf(job, result), isMet: (id: string) => !missing.has(id) };
};

/** Pieces, and millimetres of what may be joined, that are bought or taken off the shelf. */
function suppliesOf(job: Job, { purchases, fromStock }: Result): Supply[] {
  const bought = purchases.flatMap(({ offer: code, wave = 1, bought: amount, part }): Supply[] => {
    const from = { offer: code, wave };
    switch (amount.form) {
      case 'kit':
        // Of what goes by length a kit holds no millimetres.
        return amount.contents.flatMap(({ part: inside, quantity }) =>
          isByLength(job, inside) ? [] : [{ ...from, part: inside, amount: quantity * amount.packs }],
        );
      case 'pack':
        return [{ ...from, part, amount: amount.pieces }];
      case 'length':
        return [{ ...from, part, amount: amount.packs * amount.usableMm }];
      case 'metre':
        return [{ ...from, part, amount: amount.lengthMm }];
    }
  });
  const shelf = fromStock.map(({ part, count, lengthMm = 1 }) => ({
    part,
    offer: undefined,
    wave: 0,
    amount: count * lengthMm,
  }));
  return [...bought, ...shelf];
}

const isByLength = (job: Job, code: string) =>
  ['wire', 'cable', 'sleeve', 'tape'].includes(job.parts.find((part) => part.code === code)?.kind ?? '');

test('what is bought and on the shelf covers every sum that is met, order by order, nothing counted twice', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const { byWave, serves, isMet } = bare(job, result);
      const samples = wavesOf(job) > 1 ? (job.request.samples ?? 0) : 0;
      const amountOf = (requirement: Requirement | undefined) =>
        requirement === undefined
          ? 0
          : requirement.kind === 'count'
            ? requirement.quantity
            : requirement.totalMm;
      const wants = result.requirements.flatMap((requirement): Want[] => {
        const { id, kind } = requirement;
        const isSum = kind === 'count' || (kind === 'length' && requirement.joinable);
        if (!isSum || isTool(requirement) || !isMet(id)) return [];
        const all = amountOf(requirement);
        const first = kind === 'count' ? Math.min(samples, all) : 0;
        const upTo = byWave.map((list) => Math.min(all, Math.max(first, amountOf(list.get(id)))));
        return upTo.map((amount, index) => ({
          serving: serves(requirement),
          wave: index + 1,
          amount: Math.max(0, amount - Math.max(0, ...upTo.slice(0, index))),
        }));
      });
      expect(isCovered(wants, suppliesOf(job, result))).toBe(true);
    }),
    RUNS,
  );
});

test('each piece is cut from a length of its order, of one before, or off the shelf, and of what is bought no more', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const { byWave, isMet } = bare(job, result);
      for (const requirement of result.requirements) {
        const { id, kind } = requirement;
        if (kind === 'count' || (kind === 'length' && requirement.joinable) || !isMet(id)) continue;
        const plan = result.cuttingPlans.find((one) => one.requirement === id);
        const lengths = plan?.lengths ?? [];
        byWave.forEach((list, index) => {
          const needed = new Map<number, number>();
          const own = list.get(id);
          for (const { cutMm, count } of own && own.kind !== 'count' ? own.pieces : [])
            needed.set(cutMm, (needed.get(cutMm) ?? 0) + count);
          for (const [mm, count] of needed) {
            const cut = lengths.flatMap(({ lengths: alike, pieces, wave = 1, stock }) =>
              stock !== undefined || wave <= index + 1
                ? pieces.map((piece) => (piece.cutMm === mm ? alike * piece.count : 0))
                : [],
            );
            expect(sum(cut)).toBeGreaterThanOrEqual(count);
          }
          // Spares are there by each order as well, in whatever pieces they came.
          const there = lengths.flatMap(({ lengths: alike, pieces, wave = 1, stock }) =>
            stock !== undefined || wave <= index + 1
              ? pieces.map((piece) => alike * piece.count * piece.cutMm)
              : [],
          );
          if (own && own.kind !== 'count') expect(sum(there)).toBeGreaterThanOrEqual(own.totalMm);
        });
        const bought = result.purchases.filter((line) => line.requirement === id);
        const metres = bought.filter((line) => line.bought.form === 'metre');
        expect(new Set(metres.map(({ wave }) => wave)).size).toBe(metres.length);
        if (kind === 'wire')
          expect(new Set(bought.map(({ supplier }) => supplier)).size).toBeLessThanOrEqual(1);
        for (const { offer, wave, bought: amount } of bought) {
          const own = lengths.filter((length) => length.offer === offer && length.wave === wave);
          if (amount.form === 'length') expect(sum(own.map((length) => length.lengths))).toBe(amount.packs);
          if (amount.form === 'metre')
            expect(own.map((length) => [length.lengths, length.usableMm])).toEqual([[1, amount.lengthMm]]);
        }
        for (const { stock, count, lengthMm } of result.fromStock.filter((line) => line.requirement === id)) {
          const own = lengths.filter((length) => length.stock === stock);
          expect(sum(own.map((length) => length.lengths))).toBe(count);
          expect(own.every(({ usableMm }) => usableMm === lengthMm)).toBe(true);
        }
      }
    }),
    RUNS,
  );
});

test('only what may serve a need is bought for it, of one family alone, with its tool in time', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const { byWave, serves, isMet } = bare(job, result);
      const needs = new Map(result.requirements.map((requirement) => [requirement.id, requirement]));
      for (const { requirement: id, alsoFor = [], offer, part, bought } of result.purchases) {
        const sold = bought.form === 'kit' ? bought.contents.map((content) => content.part) : [part];
        for (const each of [id, ...alsoFor]) {
          const requirement = needs.get(each);
          const serving = requirement && serves(requirement);
          expect(sold.some((one) => serving?.parts.has(one))).toBe(true);
          expect(serving?.onlyOffer ?? offer).toBe(offer);
        }
      }
      const familyOf = (code: string) => job.parts.find((part) => part.code === code)?.family;
      const chosen = new Map(result.families.map(({ needed, bought }) => [needed, bought]));
      // A tool that is owned need not be bought, whether or not the shelf is to be used up.
      const shelf = new Set(job.stock.map(({ part }) => part));
      const families = new Map<string, number>();
      byWave.forEach((list, index) => {
        for (const own of list.values()) {
          const family = own.kind === 'wire' ? undefined : familyOf(own.part);
          const used = family === undefined ? undefined : (chosen.get(family) ?? family);
          if (used !== undefined && !families.has(used)) families.set(used, index + 1);
        }
      });
      const tools = [...families].filter(([family]) => {
        const working = job.parts.filter(
          (part) => part.kind === 'tool' && (part.worksFamilies ?? []).includes(family),
        );
        return working.length > 0 && working.every(({ code }) => !shelf.has(code));
      });
      expect(result.requirements.filter(isTool).map(({ id }) => id)).toEqual(
        tools.map(([family]) => `tool:${family}`).sort(),
      );
      for (const [family, wave] of tools) {
        const tool = needs.get(`tool:${family}`);
        if (!tool || !isMet(tool.id)) continue;
        const there = suppliesOf(job, result).filter(
          (one) => tool.servedBy.includes(one.part) && one.wave <= wave,
        );
        expect(there.length).toBeGreaterThan(0);
      }
    }),
    RUNS,
  );
});

test('suppliers, stock, dates and conditions are as the request has them, or a finding says why not', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const result = await pricedOnce(job);
      const { shutOut = [], insistOn = [], atMostSuppliers = Infinity, neededBy: day } = job.request;
      const used = new Set(result.purchases.map(({ supplier }) => supplier));
      expect(shutOut.filter((code) => used.has(code))).toEqual([]);
      expect(used.size).toBeLessThanOrEqual(atMostSuppliers);
      const said = new Set(
        result.findings.filter(({ code }) => code.startsWith('insisted-')).map(({ where }) => where),
      );
      expect(insistOn.map((code) => used.has(code) || said.has(`supplier ${code}`))).toEqual(
        insistOn.map(() => true),
      );
      const bought = new Map<string, number>();
      for (const { offer: code, wave = 1, bought: amount } of result.purchases) {
        const offer = job.offers.find((one) => one.code === code);
        const supplier = job.suppliers.find((one) => one.code === offer?.supplier);
        if (!offer || !supplier) throw new Error(`${code} is none of the offers`);
        const many = amount.form === 'metre' ? amount.lengthMm : amount.packs;
        bought.set(code, (bought.get(code) ?? 0) + many);
        const [least, step, stock = Infinity] =
          offer.form === 'metre'
            ? [offer.minimumMm, offer.stepMm, offer.stockMm]
            : [offer.minimumPacks, offer.stepPacks, offer.stockPacks];
        expect(many).toBeGreaterThanOrEqual(least);
        expect(many % step).toBe(0);
        expect(bought.get(code)).toBeLessThanOrEqual(stock);
        expect(['new', 'oldStock', 'reproduction']).toContain(offer.condition);
        const price = offer.form === 'metre' ? offer.pricePerMetre : offer.packPrice;
        expect(price.currency).toBe(supplier.currency);
        const lead = offer.leadDays ?? supplier.leadDays;
        if (day !== undefined && lead !== undefined && wave === 1)
          expect(Date.parse(job.asOf) + lead * 86_400_000).toBeLessThanOrEqual(Date.parse(day));
      }
      for (const { stock, count } of result.fromStock)
        expect(job.stock.find(({ code }) => code === stock)?.count).toBeGreaterThanOrEqual(count);
      if (job.request.useStock === false) expect(result.fromStock).toEqual([]);
    }),
    RUNS,
  );
});

test('each parcel’s postage, handling, tax, duty, import tax and fee are those worked anew from its goods', async () => {
  await fc.assert(
    fc.asyncProperty(arbitraryJob, async (job) => {
      const { orderLists, proof, costs } = await pricedOnce(job);
      const parcels = orderLists.map((list) => {
        const supplier = job.suppliers.find(({ code }) => code === list.supplier);
        if (!supplier) throw new Error(`no supplier ${list.supplier}`);
        const anew = parcelCost(job, supplier, list.lines);
        for (const kind of ['postage', 'handling', 'total'] as const)
          expect(`${kind} ${list[kind].amount}`).toBe(`${kind} ${printed(anew[kind], 2)}`);
        for (const kind of ['tax', 'duty', 'importTax', 'clearance'] as const)
          expect(`${kind} ${list[kind]?.amount ?? '0.00'}`).toBe(`${kind} ${printed(anew[kind], 2)}`);
        return anew.total;
      });
      const paid = parcels.reduce((total, cost) => plus(total, cost), ratio(0n, 1n));
      const nuisance = fromDecimal(proof.nuisance?.amount ?? '0');
      const all = plus(paid, nuisance);
      const cost = fromDecimal(proof.cost.amount);
      const apart = plus(all, ratio(-cost.n, cost.d));
      const near = ratio(1n, 10n ** 20n);
      expect(compare(apart, near) < 0 && compare(apart, ratio(-near.n, near.d)) > 0).toBe(true);
      // Rounded once a parcel, half a penny each at the most.
      const gap = Number(costs.total.amount) - Number(paid.n) / Number(paid.d);
      expect(Math.abs(gap)).toBeLessThanOrEqual(parcels.length * 0.005 + 1e-9);
    }),
    RUNS,
  );
});
