import { describe, expect, it } from 'vitest';
import { answer, counted, gbp, hank, pack, partOf, reds, shop, toolOf } from './handWorked.ts';
import type { OfferInput, Terms } from './jobOf.ts';

const clips = [pack('clip', 'north', '1'), pack('clip', 'south', '2')];
const four = counted({ clip: 4 });

describe('the brute force of the whole: what is asked for', () => {
  it('buys nothing for the first order that comes too late: 30 November and 10 days are 10 December', () => {
    const suppliers = [shop('north', { leadDays: 10 }), shop('south')];
    const by = (neededBy: string, offers = clips) =>
      answer(four, { suppliers, offers, request: { neededBy } });
    expect(by('2026-12-10')).toBe('0 unmet, 4');
    expect(by('2026-12-09')).toBe('0 unmet, 8');
    expect(by('2026-12-09', [pack('clip', 'north', '1', { leadDays: 9 })])).toBe('0 unmet, 4');
    expect(by('2026-12-20', [pack('clip', 'north', '1', { leadDays: 21 })])).toBe('1 unmet, 0');
  });

  it('shuts suppliers out, insists on others, and buys from few', () => {
    const wanted = counted({ clip: 1, plug: 1 });
    const offers = [
      pack('clip', 'north', '1'),
      pack('plug', 'south', '1'),
      pack('clip', 'south', '4'),
      pack('lamp', 'east', '1'),
    ];
    const suppliers = [shop('north'), shop('south'), shop('east')];
    const asking = (request: Terms['request'] = {}) => answer(wanted, { offers, suppliers, request });
    expect(asking()).toBe('0 unmet, 2');
    expect(asking({ shutOut: ['south'] })).toBe('1 unmet, 1');
    expect(asking({ atMostSuppliers: 1 })).toBe('0 unmet, 5');
    expect(asking({ atMostSuppliers: 1, insistOn: ['south'] })).toBe('0 unmet, 5');
    expect(asking({ atMostSuppliers: 1, insistOn: ['north'] })).toBe('1 unmet, 1');
    // Nobody needs what east sells.
    expect(asking({ insistOn: ['east'] })).toBe('0 unmet, 2');
    expect(answer(four, { offers: clips, request: { insistOn: ['south'] } })).toBe('0 unmet, 5');
  });

  it('does without a supplier that is insisted on where nothing that it sells can serve', () => {
    // South has 2 of the 4 clips; east asks for more than there is.
    const offers = [
      pack('clip', 'south', '1', { stockPacks: 2 }),
      pack('plug', 'north', '1'),
      pack('plug', 'east', '3', { stockPacks: 2 }),
    ];
    const suppliers = [shop('north'), shop('south'), shop('east', { minimumOrder: gbp('50') })];
    const wanted = counted({ clip: 4, plug: 1 });
    expect(answer(wanted, { offers, suppliers, request: { insistOn: ['south'] } })).toBe('1 unmet, 1');
    expect(answer(wanted, { offers, suppliers, request: { insistOn: ['east'] } })).toBe('1 unmet, 1');
  });

  it('buys a pinned part of its offer alone, which may serve more', () => {
    const kit: OfferInput = {
      form: 'kit',
      code: 'kit',
      supplier: 'south',
      contents: [
        { part: 'clip', quantity: 1 },
        { part: 'plug', quantity: 1 },
      ],
      packPrice: gbp('5'),
    };
    const offers = [pack('clip', 'north', '1'), pack('plug', 'north', '1'), kit];
    const wanted = counted({ clip: 1, plug: 2 });
    expect(answer(wanted, { offers })).toBe('0 unmet, 3');
    expect(answer(wanted, { offers, request: { pinned: [{ part: 'clip', offer: 'kit' }] } })).toBe(
      '0 unmet, 6',
    );
  });
});

describe('the brute force of the whole: what stands in', () => {
  const offers = [pack('clip', 'north', '3'), pack('plug', 'north', '1', { stockPacks: 3 })];
  const plug = (confirmedBy?: string) =>
    partOf('clip', 'plug', { standsInFor: [{ part: 'clip', ...(confirmedBy && { confirmedBy }) }] });
  const parts = (confirmedBy?: string) => [partOf('clip', 'clip'), plug(confirmedBy)];

  it('buys a part that stands in, confirmed unless the setting accepts proposed ones, never one refuted', () => {
    const wanted = counted({ clip: 2 });
    const fit = (status: 'confirmed' | 'refuted') => ({
      fits: [{ from: 'plug', relation: 'standsInFor' as const, to: 'clip', status }],
    });
    const open = { request: { settings: { standInsAccepted: ['confirmed' as const, 'proposed' as const] } } };
    expect(answer(wanted, { parts: parts('Ann'), offers })).toBe('0 unmet, 2');
    expect(answer(wanted, { parts: parts(), offers })).toBe('0 unmet, 6');
    expect(answer(wanted, { parts: parts(), offers, ...open })).toBe('0 unmet, 2');
    expect(answer(wanted, { parts: parts(), offers, ...fit('confirmed') })).toBe('0 unmet, 2');
    expect(answer(wanted, { parts: parts('Ann'), offers, ...open, ...fit('refuted') })).toBe('0 unmet, 6');
    // One way only: no clip for a plug.
    expect(answer(counted({ plug: 4 }), { parts: parts('Ann'), offers })).toBe('1 unmet, 0');
  });

  it('gives no piece to two needs: of three plugs two are needed as such', () => {
    expect(answer(counted({ clip: 2, plug: 2 }), { parts: parts('Ann'), offers })).toBe('0 unmet, 6');
  });

  it('cuts lengths of a stand-in beside those of the part', () => {
    const parts = [
      partOf('red', 'red'),
      partOf('blue', 'blue', { standsInFor: [{ part: 'red', confirmedBy: 'Ann' }] }),
    ];
    const lengths = [hank('red', 'north', 2000, '5'), hank('blue', 'north', 1000, '1')];
    // The piece of 1.5 m out of red, that of 0.8 m out of blue.
    expect(answer(reds(1500, 800), { parts, offers: lengths })).toBe('0 unmet, 6');
  });

  const family = (code: string, names: string[], replaces?: string) =>
    names.map((name) =>
      partOf(name === 'terminal' ? 'terminal' : 'housing', `${code}-${name}`, {
        family: code,
        ...(replaces && { standsInFor: [{ part: `${replaces}-${name}`, confirmedBy: 'Ann' }] }),
      }),
    );
  const names = ['housing', 'terminal'];
  const wanted = counted({ 'old-housing': 1, 'old-terminal': 2 });
  const both = [...family('old', names), ...family('new', names, 'old')];
  const prices = [
    pack('old-housing', 'north', '1'),
    pack('old-terminal', 'north', '3'),
    pack('new-housing', 'north', '4'),
    pack('new-terminal', 'north', '1'),
  ];

  it('takes a whole family for a family: 1 + 6 or 4 + 2, never 1 + 2', () => {
    expect(answer(wanted, { parts: both, offers: prices })).toBe('0 unmet, 6');
    expect(answer(wanted, { parts: both, offers: prices }, 'families')).toBe('0 unmet, 3');
    // Not where nothing of it stands in for the terminal, nor where the housing is pinned or on the shelf for a loom.
    const half = [
      ...family('old', names),
      ...family('new', ['housing'], 'old'),
      ...family('new', ['terminal']),
    ];
    expect(answer(wanted, { parts: half, offers: prices })).toBe('0 unmet, 7');
    const pinned = [{ part: 'old-housing', offer: 'old-housing-north-1' }];
    expect(answer(wanted, { parts: both, offers: prices, request: { pinned } })).toBe('0 unmet, 7');
  });

  it('pays for a tool once, unless it is owned', () => {
    const parts = [...both, toolOf('press', ['old', 'other']), toolOf('pliers', ['new'])];
    const offers = [...prices, pack('press', 'north', '10'), pack('pliers', 'north', '12')];
    // 7 + 10 against 6 + 12.
    expect(answer(wanted, { parts, offers })).toBe('0 unmet, 17');
    const owned = [{ form: 'pieces' as const, code: 'mine', part: 'pliers', count: 1 }];
    expect(answer(wanted, { parts, offers, stock: owned })).toBe('0 unmet, 6');
    // Nobody sells the press: the family for which the pliers are sold leaves nothing unmet.
    expect(answer(wanted, { parts, offers: offers.filter(({ code }) => !code.startsWith('press')) })).toBe(
      '0 unmet, 18',
    );
    expect(answer(wanted, { parts, offers: prices })).toBe('1 unmet, 6');
    // One press for two families: 1 + 1 + 10; as if for one only: two of them.
    const two = counted({ 'old-housing': 1, 'other-housing': 1 });
    const others = [...family('old', names), ...family('other', names), toolOf('press', ['old', 'other'])];
    const sold = [
      pack('old-housing', 'north', '1'),
      pack('other-housing', 'north', '1'),
      pack('press', 'north', '10'),
    ];
    expect(answer(two, { parts: others, offers: sold })).toBe('0 unmet, 12');
    expect(answer(two, { parts: others, offers: sold }, 'toolsShared')).toBe('0 unmet, 22');
  });
});
