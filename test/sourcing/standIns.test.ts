import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bought, consumable, jobOf, needing, pack, priced, supplier } from '../engine/fixtures.ts';

type PartInput = JobInput['parts'][number];

const standsIn = (code: string, part: string, confirmedBy?: string): PartInput => ({
  ...consumable(code),
  standsInFor: [{ part, ...(confirmedBy === undefined ? {} : { confirmedBy }) }],
});

describe('a sleeve that stands in for two others', () => {
  const sleeve = (code: string, standsInFor: string[] = []): PartInput => ({
    kind: 'sleeve',
    code,
    description: code,
    sleeveType: 'pvc',
    standsInFor: standsInFor.map((part) => ({ part, confirmedBy: 'R. Alder' })),
  });
  const job = (offer: JobInput['offers'][number]) =>
    jobOf({
      parts: [sleeve('a'), sleeve('b'), sleeve('x', ['a', 'b'])],
      suppliers: [supplier('s')],
      offers: [offer],
      loom: {
        coverings: ['a', 'b'].map((part) => ({ id: part, kind: 'pvc' as const, part, lengthMm: 3000 })),
      },
    });

  test('comes as a length for each, where it is sold by the metre', async () => {
    const result = await priced(
      job({
        form: 'metre',
        code: 'o',
        supplier: 's',
        part: 'x',
        pricePerMetre: { amount: '1', currency: 'GBP' },
      }),
    );
    expect(result.costs.total.amount).toBe('6.00');
  });

  test('comes as a length for each, where it is sold in lengths that do not hold both', async () => {
    const result = await priced(
      job({
        form: 'length',
        code: 'o',
        supplier: 's',
        part: 'x',
        nominalMm: 5000,
        packPrice: { amount: '4', currency: 'GBP' },
      }),
    );
    expect(result.costs.total.amount).toBe('8.00');
  });
});

describe('a part that may stand in for another', () => {
  const job = (parts: PartInput[], more: Partial<JobInput> = {}) =>
    jobOf({
      parts,
      suppliers: [supplier('s')],
      offers: [pack('dear', 's', 'old', 1, '3'), pack('cheap', 's', 'new', 1, '1')],
      loom: { parts: [{ part: 'old', quantity: 2 }] },
      ...more,
    });

  test('is bought where it is confirmed and cheaper, and that is said', async () => {
    const result = await priced(job([consumable('old'), standsIn('new', 'old', 'R. Alder')]));
    expect(bought(result)).toEqual({ cheap: 2 });
    expect(result.purchases).toMatchObject([{ part: 'new', insteadOf: 'old', requirement: 'part:old' }]);
    expect(result.findings).toMatchObject([
      { code: 'bought-in-place', found: 'new is bought instead of old, confirmed by R. Alder' },
    ]);
  });

  test('is not bought while it is only proposed, unless the setting accepts that', async () => {
    const parts = [consumable('old'), standsIn('new', 'old')];
    expect(bought(await priced(job(parts)))).toEqual({ dear: 2 });
    const settings = { standInsAccepted: ['confirmed' as const, 'proposed' as const] };
    expect(bought(await priced(job(parts, { club: { currency: 'GBP', settings } })))).toEqual({ cheap: 2 });
  });

  test('is confirmed by a fit, and refuted by one whatever the part says', async () => {
    const fit = (status: 'confirmed' | 'refuted') => ({
      fits: [{ from: 'new', relation: 'standsInFor' as const, to: 'old', status }],
    });
    expect(bought(await priced(job([consumable('old'), consumable('new')], fit('confirmed'))))).toEqual({
      cheap: 2,
    });
    const stated = [consumable('old'), standsIn('new', 'old', 'R. Alder')];
    expect(bought(await priced(job(stated, fit('refuted'))))).toEqual({ dear: 2 });
  });

  test('does not work the other way round', async () => {
    const result = await priced(
      jobOf({
        parts: [consumable('old'), standsIn('new', 'old', 'R. Alder')],
        suppliers: [supplier('s')],
        offers: [pack('o', 's', 'old', 1, '1'), pack('n', 's', 'new', 1, '3')],
        loom: { parts: [{ part: 'new', quantity: 1 }] },
      }),
    );
    expect(bought(result)).toEqual({ n: 1 });
  });

  test('is counted once where it is needed itself', async () => {
    // Two old and three new: three new do not count for both, so six for 5.00 rather than five for 5.50.
    const result = await priced(
      jobOf({
        parts: [consumable('old'), standsIn('new', 'old', 'R. Alder')],
        suppliers: [supplier('s')],
        offers: [
          pack('o', 's', 'old', 1, '3'),
          pack('three', 's', 'new', 3, '2.50'),
          pack('five', 's', 'new', 5, '5.50'),
        ],
        loom: { parts: ['old', 'new'].map((part, index) => ({ part, quantity: index + 2 })) },
      }),
    );
    expect(bought(result)).toEqual({ three: 2 });
    expect(result.leftovers).toMatchObject([{ surplus: { quantity: 1 } }]);
  });
});

describe('families', () => {
  const housing = (family: string, more: Partial<PartInput> = {}): PartInput => ({
    kind: 'housing',
    code: `${family}-housing`,
    description: `${family} housing`,
    family,
    ways: 2,
    ...(more as object),
  });
  const pin = (family: string, more: Partial<PartInput> = {}): PartInput => ({
    kind: 'terminal',
    code: `${family}-pin`,
    description: `${family} pin`,
    family,
    terminalType: 'pin',
    ...(more as object),
  });
  const by = (part: string) => ({ standsInFor: [{ part, confirmedBy: 'R. Alder' }] });
  const tool = (code: string, ...worksFamilies: string[]): PartInput => ({
    kind: 'tool',
    code,
    description: code,
    worksFamilies,
  });
  const parts = [housing('old'), pin('old'), housing('new', by('old-housing')), pin('new', by('old-pin'))];
  const loom = {
    settings: { sparePercent: 0, spareMinimum: 0, spareConfidencePercent: 0 },
    parts: [
      { part: 'old-housing', quantity: 1 },
      { part: 'old-pin', quantity: 2 },
    ],
  };
  const offers = [
    pack('oh', 's', 'old-housing', 1, '1'),
    pack('op', 's', 'old-pin', 1, '3'),
    pack('nh', 's', 'new-housing', 1, '5'),
    pack('np', 's', 'new-pin', 1, '0.50'),
  ];
  const job = (given: Parameters<typeof jobOf>[0] = {}) =>
    jobOf({ parts, suppliers: [supplier('s')], offers, loom, ...given });

  test('are never mixed: 1 + 6 or 5 + 1, not 1 + 1', async () => {
    const result = await priced(job());
    expect(bought(result)).toEqual({ nh: 1, np: 2 });
    expect(result.costs.total.amount).toBe('6.00');
    expect(result.families).toEqual([{ needed: 'old', bought: 'new' }]);
  });

  test('need a tool that is not on the shelf once, and that may decide', async () => {
    const tools = {
      parts: [...parts, tool('crimper', 'new')],
      offers: [...offers, pack('t', 's', 'crimper', 1, '2')],
    };
    const dear = await priced(job(tools));
    expect(bought(dear)).toEqual({ oh: 1, op: 2 });
    const owned = await priced(
      job({ ...tools, stock: [{ form: 'pieces', code: 'bench', part: 'crimper', count: 1 }] }),
    );
    expect(bought(owned)).toEqual({ nh: 1, np: 2 });
  });

  test('share a tool that works both', async () => {
    const result = await priced(
      job({
        parts: [...parts, housing('side'), tool('crimper', 'old', 'side'), tool('press', 'new')],
        offers: [
          ...offers,
          pack('sh', 's', 'side-housing', 1, '1'),
          pack('c', 's', 'crimper', 1, '20'),
          pack('p', 's', 'press', 1, '2'),
        ],
        loom: { ...loom, parts: [...loom.parts, { part: 'side-housing', quantity: 1 }] },
      }),
    );
    // 7 + 20 for both; or 6 + 2 beside 20.
    expect(result.costs.total.amount).toBe('28.00');
    expect(bought(result)).toEqual({ c: 1, oh: 1, op: 2, sh: 1 });
    expect(result.requirements.filter(({ id }) => id.startsWith('tool:')).map(({ id }) => id)).toEqual([
      'tool:old',
      'tool:side',
    ]);
  });

  test('stay what they are where a part of them is not bought', async () => {
    const reused = {
      ...loom,
      parts: [...loom.parts, { part: 'old-pin', quantity: 1, supply: 'reuse' as const }],
    };
    expect(bought(await priced(job({ loom: reused })))).toEqual({ oh: 1, op: 2 });
  });

  test('of which a member is not on sale are said, and cannot be chosen whole', async () => {
    const result = await priced(job({ offers: offers.filter(({ code }) => code !== 'np') }));
    expect(bought(result)).toEqual({ oh: 1, op: 2 });
    expect(result.findings).toMatchObject([
      {
        code: 'family-member-not-on-sale',
        where: 'family new, for old pin',
        found: 'no offer of new-pin can be used',
      },
    ]);
  });

  test('that are stated to stand in without saying which part for which are none to choose from, and said', async () => {
    const stated = { standsInFor: [{ family: 'old', confirmedBy: 'R. Alder' }] };
    const result = await priced(
      job({ parts: [housing('old'), pin('old'), housing('new', stated), pin('new')] }),
    );
    expect(bought(result)).toEqual({ oh: 1, op: 2 });
    expect(result.findings).toMatchObject([
      { code: 'family-not-chosen-from', where: 'family new, for old', at: '/parts/0/standsInFor/0' },
    ]);
  });

  test('that nobody sells whole go unsourced, and the rest is bought', async () => {
    const result = await priced(job({ offers: offers.filter(({ code }) => code !== 'np' && code !== 'op') }));
    expect(bought(result)).toEqual({ oh: 1 });
    expect(result.unsourced[0]?.why).toBe('No offer sells old-pin.');
    expect(result.unsourced).toMatchObject([{ requirement: 'part:old-pin' }]);
    expect(result.findings.map(({ code }) => code)).toEqual([
      'unsourced',
      'family-member-not-on-sale',
      'family-member-not-on-sale',
    ]);
  });

  test('of which nobody sells the tool: the parts are bought, and the tool is unsourced', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [supplier('s')],
        [pack('o', 's', 'side-housing', 1, '1'), pack('t', 's', 'tie', 1, '1')],
        {
          parts: [consumable('tie'), housing('side'), tool('crimper', 'side')],
          looms: [
            {
              code: 'l',
              name: 'L',
              parts: [
                { part: 'tie', quantity: 1 },
                { part: 'side-housing', quantity: 1 },
              ],
            },
          ],
        },
      ),
    );
    expect(bought(result)).toEqual({ o: 1, t: 1 });
    expect(result.unsourced).toMatchObject([{ requirement: 'tool:side', why: 'No offer sells crimper.' }]);
  });
});

describe('what is on the shelf', () => {
  test('is used first, and what it leaves to buy is bought', async () => {
    const result = await priced(
      needing({ tie: 5 }, [supplier('s')], [pack('o', 's', 'tie', 1, '1')], {
        stock: [{ form: 'pieces', code: 'drawer', part: 'tie', count: 3 }],
      }),
    );
    expect(bought(result)).toEqual({ o: 2 });
    expect(result.fromStock).toMatchObject([{ stock: 'drawer', part: 'tie', count: 3 }]);
  });

  test('is left alone where the request says so', async () => {
    const result = await priced(
      needing({ tie: 5 }, [supplier('s')], [pack('o', 's', 'tie', 1, '1')], {
        stock: [{ form: 'pieces', code: 'drawer', part: 'tie', count: 3 }],
        request: { looms: [{ loom: 'l', quantity: 1 }], useStock: false },
      }),
    );
    expect(bought(result)).toEqual({ o: 5 });
    expect(result.fromStock).toEqual([]);
  });
});
