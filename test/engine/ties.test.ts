import { describe, expect, test } from 'vitest';
import { bought, needing, pack, priced, supplier } from './fixtures.ts';

describe('of mixes that cost the same', () => {
  test('the one with least bought too much is taken', async () => {
    // 4 needed: one pack of 10, or one pack of 5, both 2.00.
    const result = await priced(
      needing(
        { tie: 4 },
        [supplier('s')],
        [pack('a-ten', 's', 'tie', 10, '2'), pack('b-five', 's', 'tie', 5, '2')],
      ),
    );
    expect(bought(result)).toEqual({ 'b-five': 1 });
  });

  test('what is too much is measured by its share of the need, not in pieces', async () => {
    // Sent free from 11.00. Two mixes cost 11.00: 105 ties and 4 clips, 5 pieces too many, 5 % of the ties; or 100 ties
    // and 5 clips, 1 piece too many, 25 % of the clips.
    const result = await priced(
      needing(
        { tie: 100, clip: 4 },
        [supplier('s', ['0', '9'], ['11', '0'])],
        [
          pack('tie-105', 's', 'tie', 105, '5'),
          pack('tie-100', 's', 'tie', 100, '6'),
          pack('clip-5', 's', 'clip', 5, '5'),
          pack('clip-4', 's', 'clip', 4, '6'),
        ],
      ),
    );
    expect(result.costs.total.amount).toBe('11.00');
    expect(bought(result)).toEqual({ 'tie-105': 1, 'clip-4': 1 });
  });

  test('and as little too much, the one from fewest suppliers is taken', async () => {
    const result = await priced(
      needing(
        { tie: 1, clip: 1, boot: 1 },
        [supplier('a'), supplier('b'), supplier('c')],
        [
          pack('a-tie', 'a', 'tie', 1, '1'),
          pack('b-clip', 'b', 'clip', 1, '1'),
          pack('b-boot', 'b', 'boot', 1, '1'),
          pack('c-tie', 'c', 'tie', 1, '1'),
          pack('c-clip', 'c', 'clip', 1, '1'),
          pack('c-boot', 'c', 'boot', 1, '1'),
        ],
      ),
    );
    expect(result.orderLists.map((list) => list.supplier)).toEqual(['c']);
  });

  test('less too much comes before fewer suppliers', async () => {
    const result = await priced(
      needing(
        { tie: 1, clip: 1 },
        [supplier('a'), supplier('b')],
        [
          pack('a-tie', 'a', 'tie', 1, '1'),
          pack('a-clip', 'a', 'clip', 2, '1'),
          pack('b-clip', 'b', 'clip', 1, '1'),
        ],
      ),
    );
    expect(bought(result)).toEqual({ 'a-tie': 1, 'b-clip': 1 });
  });

  test('a penny of cost comes before any waste and any number of suppliers', async () => {
    const result = await priced(
      needing(
        { tie: 1, clip: 1 },
        [supplier('a'), supplier('b')],
        [
          pack('a-tie', 'a', 'tie', 1, '1'),
          pack('a-clip', 'a', 'clip', 1, '1'),
          pack('b-clip', 'b', 'clip', 50, '0.9999'),
        ],
      ),
    );
    expect(bought(result)).toEqual({ 'a-tie': 1, 'b-clip': 1 });
  });
});
