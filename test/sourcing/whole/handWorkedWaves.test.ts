import { describe, expect, it } from 'vitest';
import { answer, byMetre, counted, gbp, hank, pack, partOf, reds, shop, toolOf } from './handWorked.ts';
import type { LoomWants, Terms, Wanted } from './jobOf.ts';

/** So many looms alike now, and so many later. */
const nowAndLater = (loom: LoomWants, now: number, later: number): Wanted => ({
  looms: { loom },
  lines: [
    { loom: 'loom', quantity: now },
    { loom: 'loom', quantity: later, wave: 2 },
  ],
});
const clip = (quantity: number): LoomWants => ({ counted: [{ part: 'clip', quantity }] });
const red = (...pieces: number[]): LoomWants => ({
  wires: pieces.map((mm) => ({ colour: 'red' as const, mm })),
});
const posted = (charge: string) =>
  shop('north', { postage: { by: 'value', bands: [{ fromValue: gbp('0'), charge: gbp(charge) }] } });

describe('the brute force of the whole: orders that follow each other', () => {
  it('keeps what an order leaves for the next one, and orders twice only where that is cheaper', () => {
    // Packs of 10 at 4.00: 6 now and 6 later take two of them; one parcel at 1.00 is cheaper than two.
    const terms = { suppliers: [posted('1')], offers: [pack('clip', 'north', '4', { packCount: 10 })] };
    expect(answer(nowAndLater(clip(6), 1, 1), terms)).toBe('0 unmet, 9');
    // 4 now and 4 later take one.
    expect(answer(nowAndLater(clip(4), 1, 1), terms)).toBe('0 unmet, 5');
    expect(answer(nowAndLater(clip(4), 1, 1), terms, 'wavesCarryOver')).toBe('0 unmet, 10');
  });

  it('may buy more of anything that is needed to reach a minimum order, with whichever order', () => {
    // The clip is needed now, in time from south alone at 3.00. Later the plug at 1.90 and a clip at 0.10 reach 2.00.
    const wanted: Wanted = {
      looms: { now: clip(1), later: { counted: [{ part: 'plug', quantity: 1 }] } },
      lines: [
        { loom: 'now', quantity: 1 },
        { loom: 'later', quantity: 1, wave: 2 },
      ],
    };
    const suppliers = [shop('north', { leadDays: 30, minimumOrder: gbp('2') }), shop('south')];
    const offers = [pack('clip', 'south', '3'), pack('plug', 'north', '1.90'), pack('clip', 'north', '0.10')];
    expect(answer(wanted, { suppliers, offers, request: { neededBy: '2026-12-01' } })).toBe('0 unmet, 5');
  });

  it('reaches breaks in each order by itself, and the stock once', () => {
    const breaks = [{ fromPacks: 4, packPrice: gbp('0.50') }];
    const offers = [pack('clip', 'north', '1', { breaks })];
    // 4 at once cost 2.00; 2 and 2 would cost 4.00. All 4 come now.
    expect(answer(nowAndLater(clip(2), 1, 1), { offers })).toBe('0 unmet, 2');
    const late = {
      suppliers: [shop('north', { leadDays: 30 }), shop('south')],
      request: { neededBy: '2026-12-01' },
    };
    // Only 2 may come now, from south at 3.00; later 2 from north at 1.00.
    const two = [...offers, pack('clip', 'south', '3')];
    expect(answer(nowAndLater(clip(2), 1, 1), { offers: two, ...late })).toBe('0 unmet, 8');
    // 3 there are in all.
    const few = [pack('clip', 'north', '1', { stockPacks: 3 })];
    expect(answer(nowAndLater(clip(2), 1, 1), { offers: few })).toBe('1 unmet, 0');
    expect(answer(nowAndLater(clip(1), 1, 2), { offers: few })).toBe('0 unmet, 3');
  });

  it('buys samples of what only later looms need with the first order', () => {
    const wanted: Wanted = {
      looms: { now: { counted: [{ part: 'plug', quantity: 1 }] }, later: clip(5) },
      lines: [
        { loom: 'now', quantity: 1 },
        { loom: 'later', quantity: 1, wave: 2 },
      ],
    };
    const terms = {
      suppliers: [shop('north', { leadDays: 30 }), shop('south')],
      offers: [pack('clip', 'north', '1'), pack('clip', 'south', '2'), pack('plug', 'south', '1')],
    };
    const request: Terms['request'] = { neededBy: '2026-12-01' };
    expect(answer(wanted, { ...terms, request })).toBe('0 unmet, 6');
    // 2 clips now at 2.00, 3 later at 1.00, the plug; 9 samples of 5 are 5.
    expect(answer(wanted, { ...terms, request: { ...request, samples: 2 } })).toBe('0 unmet, 8');
    expect(answer(wanted, { ...terms, request: { ...request, samples: 9 } })).toBe('0 unmet, 11');
  });

  it('cuts later pieces from what earlier lengths leave, never the other way round', () => {
    const lengths = [hank('red', 'north', 2000, '5')];
    const late = {
      suppliers: [shop('north', { leadDays: 30 }), shop('south')],
      request: { neededBy: '2026-12-01' },
    };
    expect(answer(nowAndLater(red(1000), 1, 1), { offers: lengths })).toBe('0 unmet, 5');
    expect(answer(nowAndLater(red(1000), 1, 1), { offers: lengths }, 'wavesCarryOver')).toBe('0 unmet, 10');
    expect(answer(nowAndLater(red(1000), 1, 1), { offers: lengths, ...late })).toBe('1 unmet, 0');
  });

  it('buys one length by the metre in each order', () => {
    const late = {
      suppliers: [shop('north', { leadDays: 30 }), shop('south')],
      request: { neededBy: '2026-12-01' },
    };
    const offers = [byMetre('red', 'north', '1'), byMetre('red', 'south', '3')];
    const free = { settings: { oneColourOneSupplier: false } };
    const wanted = nowAndLater(red(1000), 1, 2);
    // 1 m now at 3.00, 2 m later at 1.00; all from one supplier: 3 m at 3.00.
    expect(answer(wanted, { offers, ...late, request: { ...late.request, ...free } })).toBe('0 unmet, 5');
    expect(answer(wanted, { offers, ...late })).toBe('0 unmet, 9');
  });

  it('needs a tool with the first order in which its family is needed', () => {
    const parts = [partOf('clip', 'clip'), partOf('housing', 'box', { family: 'f' }), toolOf('press', ['f'])];
    const late = {
      suppliers: [shop('north', { leadDays: 30 }), shop('south')],
      request: { neededBy: '2026-12-01' },
    };
    const offers = [
      pack('box', 'south', '1'),
      pack('clip', 'south', '1'),
      pack('press', 'north', '5'),
      pack('press', 'south', '9'),
    ];
    const box: LoomWants = { counted: [{ part: 'box', quantity: 1 }] };
    expect(answer(nowAndLater(box, 1, 1), { parts, offers, ...late })).toBe('0 unmet, 11');
    const later: Wanted = {
      looms: { now: clip(1), later: box },
      lines: [
        { loom: 'now', quantity: 1 },
        { loom: 'later', quantity: 1, wave: 2 },
      ],
    };
    expect(answer(later, { parts, offers, ...late })).toBe('0 unmet, 7');
  });
});

describe('the brute force of the whole: the shelf', () => {
  const shelf = (part: string, count: number) => [{ form: 'pieces' as const, code: 'mine', part, count }];
  const lengths = (lengthMm: number, count = 1) => [
    { form: 'length' as const, code: 'mine', part: 'red', lengthMm, count },
  ];

  it('takes pieces first that looms take from stock, then serves with the rest, for nothing', () => {
    const offers = [pack('clip', 'north', '1')];
    expect(answer(counted({ clip: 5 }), { offers, stock: shelf('clip', 3) })).toBe('0 unmet, 2');
    expect(
      answer(counted({ clip: 5 }), { offers, stock: shelf('clip', 3), request: { useStock: false } }),
    ).toBe('0 unmet, 5');
    const wanted: Wanted = {
      looms: {
        loom: { counted: [...(clip(5).counted ?? []), { part: 'clip', quantity: 2, supply: 'stock' }] },
      },
      lines: [{ loom: 'loom', quantity: 1 }],
    };
    expect(answer(wanted, { offers, stock: shelf('clip', 3) })).toBe('0 unmet, 4');
    const pinned = [{ part: 'clip', offer: 'clip-north-1' }];
    expect(answer(counted({ clip: 5 }), { offers, stock: shelf('clip', 3), request: { pinned } })).toBe(
      '0 unmet, 5',
    );
  });

  it('gives a piece of what stands in to one need alone: two plugs on the shelf are for one plug and one of two clips', () => {
    const parts = [
      partOf('clip', 'clip'),
      partOf('clip', 'plug', { standsInFor: [{ part: 'clip', confirmedBy: 'Ann' }] }),
    ];
    const offers = [pack('clip', 'north', '1'), pack('plug', 'north', '3')];
    const wanted = counted({ clip: 2, plug: 1 });
    expect(answer(wanted, { parts, offers, stock: shelf('plug', 2) })).toBe('0 unmet, 1');
    expect(answer(wanted, { parts, offers, stock: shelf('plug', 3) })).toBe('0 unmet, 0');
    // Clips do not stand in for plugs.
    expect(answer(wanted, { parts, offers, stock: shelf('clip', 3) })).toBe('0 unmet, 3');
  });

  it('cuts own lengths beside those of the one supplier of a colour', () => {
    const offers = [hank('red', 'north', 1000, '5'), hank('red', 'north', 2000, '9')];
    expect(answer(reds(1000, 900), { offers })).toBe('0 unmet, 9');
    expect(answer(reds(1000, 900), { offers, stock: lengths(950) })).toBe('0 unmet, 5');
    expect(answer(reds(1000, 900), { offers, stock: lengths(950, 2) })).toBe('0 unmet, 5');
    expect(answer(reds(1000, 900), { offers, stock: lengths(899) })).toBe('0 unmet, 9');
    // As if own lengths were of a supplier: all from north.
    const off = 'oneColourOneSupplierExemptsStock';
    expect(answer(reds(1000, 900), { offers, stock: lengths(950) }, off)).toBe('0 unmet, 9');
  });

  it('serves from the shelf only the family that is chosen', () => {
    const family = (code: string, replaces?: string) =>
      partOf('housing', code, {
        family: code,
        ...(replaces && { standsInFor: [{ part: replaces, confirmedBy: 'Ann' }] }),
      });
    const parts = [family('old'), family('new', 'old')];
    const offers = [pack('old', 'north', '5'), pack('new', 'north', '2')];
    // Of three old ones two are there, and one costs 5.00; three new ones cost 6.00.
    expect(answer(counted({ old: 3 }), { parts, offers, stock: shelf('old', 2) })).toBe('0 unmet, 5');
    expect(answer(counted({ old: 3 }), { parts, offers, stock: shelf('old', 1) })).toBe('0 unmet, 6');
    // Of the new ones two are there.
    expect(answer(counted({ old: 3 }), { parts, offers, stock: shelf('new', 2) })).toBe('0 unmet, 2');
  });
});
