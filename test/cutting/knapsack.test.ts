import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Item } from '../../worker/engine/cutting/fillTable.ts';
import { bestFilling } from '../../worker/engine/cutting/knapsack.ts';
import { pricingOf } from '../../worker/engine/cutting/pricing.ts';
import { fillingsOf } from './fewest.ts';

const worthOf = (items: readonly Item[], counts: readonly number[]) =>
  items.reduce((sum, { value }, at) => sum + value * (counts[at] ?? 0), 0);

/** Every filling, with what it is worth. */
function tried(items: readonly Item[], size: number) {
  return fillingsOf(
    size,
    items.map((item) => ({ mm: item.size, count: item.count })),
  ).map((counts) => ({ counts, worth: worthOf(items, counts) }));
}
const most = (items: readonly Item[], size: number) =>
  Math.max(...tried(items, size).map(({ worth }) => worth));

/** Whether so many of each item there are, and go in. */
function goesIn(items: readonly Item[], counts: readonly number[], size: number): boolean {
  const used = items.reduce((sum, item, at) => sum + item.size * (counts[at] ?? 0), 0);
  return used <= size && items.every(({ count }, at) => (counts[at] ?? 0) >= 0 && (counts[at] ?? 0) <= count);
}

const values = {
  'whole and small': fc.nat(40),
  'whole and large': fc.nat(1_000_000_000),
  'not whole': fc.double({ min: 0.001, max: 2, noNaN: true }),
};

describe.each(Object.entries(values))('values %s', (_, value) => {
  const items = fc.array(fc.record({ size: fc.integer({ min: 1, max: 30 }), count: fc.nat(4), value }), {
    maxLength: 6,
  });

  test('the filling that is found goes in and is worth as much as any', () => {
    fc.assert(
      fc.property(items, fc.nat(90), (own, size) => {
        const found = bestFilling(own, size);
        expect(goesIn(own, found.counts, size)).toBe(true);
        expect(found.worth).toBeCloseTo(most(own, size), 6);
        expect(found.worth).toBeCloseTo(worthOf(own, found.counts), 6);
        expect(found.most).toBe(found.worth);
      }),
      { numRuns: 300 },
    );
  });

  test('with slack it is worth less by no more than that, and none is worth more than is said', () => {
    let less = 0;
    fc.assert(
      fc.property(items, fc.nat(90), fc.constantFrom(0.02, 0.2), (own, size, slack) => {
        const found = bestFilling(own, size, slack);
        const best = most(own, size);
        if (found.worth < best * (1 - 1e-9)) less++;
        expect(goesIn(own, found.counts, size)).toBe(true);
        expect(found.most).toBeGreaterThanOrEqual(best * (1 - 1e-12));
        // No more than the share of what the length would hold if pieces could be divided, which is twice the best at most.
        expect(found.most - found.worth).toBeLessThanOrEqual(2 * slack * best + 1e-9);
      }),
      { numRuns: 300 },
    );
    expect(less).toBeGreaterThan(0);
  });

  test('a table and a search say the same, and neither says less of the rest of the items than that is worth', () => {
    fc.assert(
      fc.property(items, fc.nat(60), (own, size) => {
        const byTable = pricingOf(own, { size, mostEntries: Infinity });
        const bySearch = pricingOf(own, { size, mostEntries: 0 });
        expect(bySearch.worth(size)).toBeCloseTo(byTable.worth(size), 6);
        for (const pricing of [byTable, bySearch]) {
          const [best, ...others] = pricing.fillings(size);
          expect(worthOf(own, best ?? [])).toBeCloseTo(most(own, size), 6);
          for (const counts of others) expect(goesIn(own, counts, size)).toBe(true);
          for (const from of own.keys()) {
            const rest = pricing.order.slice(from).flatMap((at) => own[at] ?? []);
            expect(pricing.within(size, from)).toBeGreaterThanOrEqual(most(rest, size) * (1 - 1e-12));
          }
        }
      }),
    );
  });
});
