import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import {
  byTheMetre,
  consumable,
  gbp,
  jobOf,
  needing,
  pack,
  points,
  priced,
  supplier,
  wire,
  wirePart,
} from './fixtures.ts';

describe('what is not sourced', () => {
  test('does not sink the quote', async () => {
    const result = await priced(
      needing({ tie: 1, clip: 1 }, [supplier('s')], [pack('o', 's', 'tie', 1, '1')]),
    );
    expect(result.costs.total.amount).toBe('1.00');
    expect(result.unsourced).toEqual([
      {
        requirement: 'part:clip',
        label: 'Part clip',
        why: 'No offer sells clip.',
        todo: 'Enter an offer for clip.',
      },
    ]);
  });

  test('names the parts that are stated to stand in for it, by part or by family', async () => {
    const result = await priced(
      jobOf({
        parts: [
          { ...consumable('tie'), family: 'ties' },
          { ...consumable('strap'), standsInFor: [{ part: 'tie' }] },
          { ...consumable('lace'), standsInFor: [{ family: 'ties' }] },
        ],
        loom: { parts: [{ part: 'tie', quantity: 1 }] },
      }),
    );
    expect(result.unsourced[0]?.todo).toContain('strap, lace');
  });

  test('names the wires of the catalogue that come nearest, of the same cable and size first', async () => {
    const result = await priced(
      jobOf({
        parts: [
          wirePart('green', 'green'),
          wirePart('black', 'black'),
          { ...wirePart('other-size'), size: { system: 'mm2', areaMm2: 2 } } as JobInput['parts'][number],
        ],
        loom: { points: points('A', 'B'), wires: [wire('1')] },
      }),
    );
    expect(result.unsourced).toMatchObject([
      {
        why: 'No wire in the catalogue is thin-wall 1 mm² red. Nearest: thin-wall 1 mm² black (black), thin-wall 1 mm² green (green).',
      },
    ]);
  });

  test('leaves nothing to buy and nothing to compare where it is all there is', async () => {
    const result = await priced(needing({ tie: 1 }, [], []));
    expect(result).toMatchObject({
      purchases: [],
      orderLists: [],
      comparisons: [],
      costs: { lines: [], total: gbp('0.00') },
      proof: { status: 'nothingToBuy' },
    });
  });
});

describe('an offer that cannot be used', () => {
  const eur = (amount: string) => ({ amount, currency: 'EUR' });

  test('for its currency is passed over with a warning', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [{ code: 's', name: 'S', currency: 'EUR' }],
        [{ form: 'pack', code: 'o', supplier: 's', part: 'tie', packCount: 1, packPrice: eur('0.10') }],
      ),
    );
    expect(result.findings).toMatchObject([
      { code: 'offer-in-other-currency', severity: 'warning', at: '/offers/0/packPrice/currency' },
    ]);
    expect(result.unsourced[0]?.why).toContain('priced in EUR');
  });

  test('for its supplier’s postage in another currency is passed over with a warning', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [
          {
            code: 's',
            name: 'S',
            currency: 'EUR',
            postage: { by: 'value', bands: [{ fromValue: eur('0'), charge: eur('5') }] },
          },
        ],
        [pack('o', 's', 'tie', 1, '1')],
      ),
    );
    expect(result.findings).toMatchObject([{ code: 'postage-in-other-currency', severity: 'warning' }]);
    expect(result.purchases).toEqual([]);
  });

  test('as packs of a wire, or metres of what is counted, is passed over with a note', async () => {
    const result = await priced(
      jobOf({
        parts: [wirePart('red'), consumable('tie')],
        suppliers: [supplier('s')],
        offers: [pack('reel', 's', 'red', 1, '1'), byTheMetre('string', 's', 'tie', '1')],
        loom: { points: points('A', 'B'), wires: [wire('1')], parts: [{ part: 'tie', quantity: 1 }] },
      }),
    );
    expect(result.findings.map(({ code, severity }) => [code, severity])).toEqual([
      ['pack-of-length-part', 'note'],
      ['metre-of-counted-part', 'note'],
    ]);
    expect(result.unsourced).toHaveLength(2);
  });

  test('as a kit or a fixed length is listed as not yet used, and named where its part is unsourced', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [supplier('s')],
        [
          {
            form: 'kit',
            code: 'box',
            supplier: 's',
            contents: [{ part: 'tie', quantity: 9 }],
            packPrice: gbp('1'),
          },
        ],
      ),
    );
    expect(result.notYetUsed).toContainEqual({ field: 'offers[form=kit]', count: 1, first: '/offers/0' });
    expect(result.unsourced[0]?.why).toContain('offer box is a kit');
  });
});

describe('terms that are not worked out yet', () => {
  test('leave postage by weight uncharged, with a warning that names the supplier', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [
          {
            ...supplier('s'),
            postage: { by: 'weight', bands: [{ fromG: 0, charge: gbp('4') }] },
          },
        ],
        [pack('o', 's', 'tie', 1, '1')],
      ),
    );
    expect(result.costs.total.amount).toBe('1.00');
    expect(result.findings).toMatchObject([
      { code: 'postage-by-weight-not-charged', severity: 'warning', where: 'supplier s' },
    ]);
  });

  test('are warned of where the order would meet them: minimum order, handling, stock, steps', async () => {
    const result = await priced(
      needing(
        { tie: 3 },
        [{ ...supplier('s'), minimumOrder: gbp('10'), handling: gbp('1') }],
        [pack('o', 's', 'tie', 1, '1', { stockPacks: 2, stepPacks: 2 })],
      ),
    );
    expect(result.findings.map(({ code }) => code).sort()).toEqual([
      'below-minimum-order',
      'handling-not-charged',
      'more-than-stock',
      'not-in-step',
    ]);
  });

  test('are not warned of where the order does not meet them', async () => {
    const result = await priced(
      needing(
        { tie: 4 },
        [{ ...supplier('s'), minimumOrder: gbp('4') }],
        [pack('o', 's', 'tie', 1, '1', { stockPacks: 4, stepPacks: 2 })],
      ),
    );
    expect(result.findings).toEqual([]);
  });
});
