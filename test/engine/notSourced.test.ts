import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
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

/** What is found beside the need that goes unsourced. */
const beside = ({ findings }: Result) => findings.filter(({ code }) => code !== 'unsourced');

describe('what is not sourced', () => {
  test('is a finding too, at the part or the wire that is needed', async () => {
    const result = await priced(
      jobOf({
        parts: [consumable('clip'), consumable('tie')],
        loom: {
          points: points('A', 'B'),
          wires: [wire('W1')],
          parts: [{ part: 'tie', quantity: 1 }],
        },
      }),
    );
    expect(result.findings.map(({ code, severity, at, where }) => [code, severity, at, where])).toEqual([
      ['unsourced', 'warning', '/looms/0/wires/0', 'thin-wall 1 mm² red'],
      ['unsourced', 'warning', '/parts/0', 'Part tie'],
    ]);
  });

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

  test('names apart what the checks refused in its place, and promises nothing of it', async () => {
    const device = (code: string, more: object = {}) => ({
      kind: 'housing' as const,
      code,
      description: code,
      ways: 2,
      ...more,
    });
    const standsInFor = [{ part: 'old', confirmedBy: 'R. Alder' }];
    const result = await priced(
      jobOf({
        parts: [device('old'), device('narrow', { ways: 1, standsInFor }), device('wide', { standsInFor })],
        suppliers: [supplier('s')],
        offers: [pack('o', 's', 'narrow', 1, '1')],
        loom: {
          points: [
            { id: 'A', kind: 'connector', part: 'old' },
            { id: 'B', kind: 'flyingLead' },
          ],
          wires: ['1', '2'].map((way) =>
            wire(`W${way}`, {
              supply: 'reuse',
              from: { point: 'A', way, join: 'crimp' },
              to: { point: 'B', way, join: 'bare' },
            }),
          ),
        },
      }),
    );
    const todo = result.unsourced[0]?.todo;
    expect(todo).toContain(
      'for it: wide. A confirmed stand-in is bought instead if an offer sells it and it passes the checks.',
    );
    expect(todo).toContain('refused by the checks: narrow.');
  });

  test('names no thinner wire as nearest for one that states amps or a fuse', async () => {
    const sized = (code: string, areaMm2: number) => ({
      ...wirePart(code),
      size: { system: 'mm2' as const, areaMm2 },
    });
    const nearest = async (given: Parameters<typeof wire>[1]) => {
      const parts = [sized('thin', 0.5), sized('thick', 2)] as JobInput['parts'];
      const result = await priced(
        jobOf({ parts, loom: { points: points('A', 'B'), wires: [wire('W', given)] } }),
      );
      return result.unsourced[0]?.why;
    };
    const both = 'Nearest: thin-wall 2 mm² red (thick), thin-wall 0.5 mm² red (thin).';
    expect(await nearest({})).toContain(both);
    const thickAlone = 'Nearest: thin-wall 2 mm² red (thick).';
    expect(await nearest({ amps: 5 })).toContain(thickAlone);
    expect(await nearest({ fuse: { ratingAmps: 10, basis: 'continuous' } })).toContain(thickAlone);
  });

  test('names the wires of the catalogue that come nearest, its colour in another size first', async () => {
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
        why: 'No wire in the catalogue is thin-wall 1 mm² red. Nearest: thin-wall 2 mm² red (other-size).',
      },
    ]);
  });

  test('names them too for a wire of the catalogue that nobody sells', async () => {
    const result = await priced(
      jobOf({
        parts: [
          wirePart('red'),
          { ...wirePart('two'), size: { system: 'mm2', areaMm2: 2 } } as JobInput['parts'][number],
        ],
        loom: { points: points('A', 'B'), wires: [wire('1')] },
      }),
    );
    expect(result.unsourced).toMatchObject([
      {
        why: 'No offer sells red. Nearest: thin-wall 2 mm² red (two).',
        todo: 'Enter an offer for red. Or, if one of the nearest is good enough, name it in the loom.',
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

  test('for its currency, of which there is no rate, is passed over with a warning', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [{ code: 's', name: 'S', currency: 'EUR' }],
        [{ form: 'pack', code: 'o', supplier: 's', part: 'tie', packCount: 1, packPrice: eur('0.10') }],
      ),
    );
    expect(beside(result)).toMatchObject([
      {
        code: 'currency-without-rate',
        severity: 'warning',
        at: '/suppliers/0/currency',
        where: 'supplier s',
      },
    ]);
    expect(result.unsourced[0]?.why).toContain('there is no rate for EUR');
  });

  test('for a price in another currency than its supplier’s is passed over with a warning', async () => {
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
        { rates: [{ code: 'eur', currency: 'EUR', on: '2026-01-01', rate: '0.85' }] },
      ),
    );
    expect(beside(result)).toMatchObject([
      { code: 'offer-in-other-currency', severity: 'warning', at: '/offers/0/packPrice/currency' },
    ]);
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
    expect(beside(result).map(({ code, severity }) => [code, severity])).toEqual([
      ['pack-of-length-part', 'note'],
      ['metre-of-counted-part', 'note'],
    ]);
    expect(result.unsourced).toHaveLength(2);
  });

  test('as a kit of what is needed by length, or a length of what is counted, is passed over with a note', async () => {
    const result = await priced(
      jobOf({
        parts: [wirePart('red'), consumable('tie')],
        suppliers: [supplier('s')],
        offers: [
          {
            form: 'kit',
            code: 'box',
            supplier: 's',
            contents: [
              { part: 'red', quantity: 5 },
              { part: 'tie', quantity: 9 },
            ],
            packPrice: gbp('1'),
          },
          { form: 'length', code: 'roll', supplier: 's', part: 'tie', nominalMm: 5000, packPrice: gbp('1') },
        ],
        loom: { points: points('A', 'B'), wires: [wire('1')], parts: [{ part: 'tie', quantity: 1 }] },
      }),
    );
    expect(beside(result).map(({ code, severity }) => [code, severity])).toEqual([
      ['kit-of-length-part', 'note'],
      ['length-of-counted-part', 'note'],
    ]);
    expect(result.unsourced).toMatchObject([{ requirement: 'wire:thin-wall:1mm2:red' }]);
    expect(result.purchases).toMatchObject([{ offer: 'box', requirement: 'part:tie' }]);
  });

  test('for its condition is passed over, unless the club accepts it', async () => {
    const job = (conditionsAccepted?: ['used']) => ({
      ...needing({ tie: 1 }, [supplier('s')], [pack('o', 's', 'tie', 1, '1', { condition: 'used' })]),
      club: { currency: 'GBP', settings: conditionsAccepted ? { conditionsAccepted } : {} },
    });
    const refused = await priced(job());
    expect(beside(refused)).toMatchObject([{ code: 'condition-not-accepted', at: '/offers/0/condition' }]);
    expect(refused.unsourced).toHaveLength(1);
    expect((await priced(job(['used']))).unsourced).toEqual([]);
  });

  test.each([
    ['out-of-stock', { stockPacks: 0 }],
    ['stock-below-minimum', { stockPacks: 3, minimumPacks: 4 }],
    ['stock-below-minimum', { stockPacks: 3, stepPacks: 4 }],
  ])('for its stock is passed over: %s', async (code, more) => {
    const result = await priced(needing({ tie: 1 }, [supplier('s')], [pack('o', 's', 'tie', 1, '1', more)]));
    expect(beside(result)).toMatchObject([{ code, severity: 'note', at: '/offers/0/stockPacks' }]);
    expect(result.unsourced).toHaveLength(1);
  });

  test('as a fixed length shorter than every piece is passed over; one shorter than some serves for the others', async () => {
    const hank = (code: string, nominalMm: number, price: string) =>
      ({ form: 'length', code, supplier: 's', part: 'red', nominalMm, packPrice: gbp(price) }) as const;
    const exact = { slackPercent: 0, redoMm: 0, stripMm: 0 };
    const job = (...offers: ReturnType<typeof hank>[]) =>
      jobOf({
        club: { currency: 'GBP', settings: exact },
        parts: [wirePart('red')],
        suppliers: [supplier('s')],
        offers,
        loom: {
          points: points('A', 'B'),
          wires: [wire('1', { length: { mm: 4000, basis: 'route' } }), wire('2')].map((each) => ({
            ...each,
            to: { ...each.to, way: each.id },
            circuit: 'one',
          })),
        },
      });
    const none = await priced(job(hank('short', 900, '1')));
    expect(beside(none)).toMatchObject([{ code: 'length-too-short', at: '/offers/0/nominalMm' }]);
    expect(none.unsourced[0]?.why).toContain('short');
    const some = await priced(job(hank('long', 4500, '9'), hank('short', 1000, '1')));
    expect(beside(some)).toMatchObject([{ code: 'length-too-short-for-some' }]);
    expect(some.purchases.map(({ offer }) => offer)).toEqual(['long', 'short']);
  });
});

describe('a supplier', () => {
  test('that posts by weight charges by it, and parts without a weight are told', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [{ ...supplier('s'), postage: { by: 'weight', bands: [{ fromG: 0, charge: gbp('4') }] } }],
        [pack('o', 's', 'tie', 1, '1')],
      ),
    );
    expect(result.costs.total.amount).toBe('5.00');
    expect(beside(result)).toMatchObject([
      { code: 'weight-not-known', severity: 'warning', where: 'supplier s' },
    ]);
  });

  test('whose minimum order all that it has does not reach is passed over, and the need is unsourced', async () => {
    const result = await priced(
      needing(
        { tie: 3 },
        [{ ...supplier('s'), minimumOrder: gbp('10') }],
        [pack('o', 's', 'tie', 1, '1', { stockPacks: 4 })],
      ),
    );
    expect(beside(result)).toMatchObject([
      { code: 'minimum-order-out-of-reach', at: '/suppliers/0/minimumOrder' },
    ]);
    expect(result.unsourced[0]?.why).toContain('minimum order');
  });

  test('whose minimum order is reached only by buying more is bought from up to it, where nobody else sells', async () => {
    const result = await priced(
      needing(
        { tie: 3 },
        [{ ...supplier('s'), minimumOrder: gbp('10'), handling: gbp('0.50') }],
        [pack('o', 's', 'tie', 1, '1.50')],
      ),
    );
    expect(result.purchases).toMatchObject([{ bought: { packs: 7 } }]);
    expect(result.orderLists).toMatchObject([
      { goods: gbp('10.50'), handling: gbp('0.50'), total: gbp('11.00') },
    ]);
  });
});

describe('needs that cannot all be met together', () => {
  test('go unmet as few as possible, and of these ways the cheapest is taken', async () => {
    // A kit gives one of each; there is one kit. Beside it only a is sold. Two a and one b: all met. Two of each: b is not.
    const kit = {
      form: 'kit' as const,
      code: 'kit',
      supplier: 's',
      contents: [
        { part: 'a', quantity: 1 },
        { part: 'b', quantity: 1 },
      ],
      packPrice: gbp('3'),
      stockPacks: 1,
    };
    const job = (quantity: number) =>
      needing({ a: 2, b: quantity }, [supplier('s')], [kit, pack('o', 's', 'a', 1, '1')]);
    expect((await priced(job(1))).unsourced).toEqual([]);
    const short = await priced(job(2));
    expect(short.unsourced.map(({ requirement }) => requirement)).toEqual(['part:b']);
    expect(short.costs.total.amount).toBe('2.00');
  });

  test('are told so where each could be bought alone', async () => {
    // Goods of s come to 3 at the most beside stock; its minimum is 6, which a alone or b alone does not reach either.
    const result = await priced(
      needing(
        { a: 2, b: 1 },
        [{ ...supplier('s'), minimumOrder: gbp('5') }, supplier('t')],
        [pack('a', 's', 'a', 1, '2', { stockPacks: 2 }), pack('b', 's', 'b', 1, '1', { stockPacks: 1 })],
      ),
    );
    expect(result.unsourced).toEqual([]);
    expect(result.costs.total.amount).toBe('5.00');
  });
});
