import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mostWorth } from '../../worker/engine/cutting/mostWorth.ts';
import { fillingsOf } from './fewest.ts';

const values = {
  'whole and small, so that sizes are looked up by worth': fc.nat(4),
  'whole and large, so that worth is looked up by size': fc.nat(1_000_000),
  'not whole': fc.double({ min: 0, max: 2, noNaN: true }),
};

describe.each(Object.entries(values))('values %s', (_, value) => {
  test('give the same as trying every filling of each size', () => {
    const item = fc.record({ size: fc.integer({ min: 0, max: 30 }), count: fc.nat(4), value });
    fc.assert(
      fc.property(
        fc.array(item, { maxLength: 5 }),
        fc.array(fc.nat(60), { minLength: 1, maxLength: 4 }),
        (items, sizes) => {
          const pieces = items.map(({ size, count }) => ({ mm: size, count }));
          const tried = sizes.map((size) =>
            Math.max(
              ...fillingsOf(size, pieces).map((counts) =>
                items.reduce((sum, own, at) => sum + own.value * (counts[at] ?? 0), 0),
              ),
            ),
          );
          for (const mostEntries of [Infinity, 0])
            mostWorth(items, sizes, { mostEntries }).forEach((found, at) =>
              expect(found).toBeCloseTo(tried[at] ?? -1, 6),
            );
        },
      ),
    );
  });
});
