import { describe, expect, test } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { hashOf } from '../../worker/engine/model/canonical.ts';
import { Cancelled, type Control, type Progress } from '../../worker/engine/model/control.ts';
import { consumable, gbp, jobOf, pack, priced, supplier, unhurried } from './fixtures.ts';

/** Two shops; together dearer than the better of them alone, which the solver must find out. */
const job = () =>
  jobOf({
    quantity: 2,
    parts: [consumable('tie'), consumable('clip')],
    suppliers: [supplier('a', ['0', '3']), supplier('b', ['0', '3'])],
    offers: [
      pack('a-tie', 'a', 'tie', 1, '1'),
      pack('a-clip', 'a', 'clip', 1, '2'),
      pack('b-clip', 'b', 'clip', 1, '1.90'),
    ],
    loom: {
      parts: [
        { part: 'tie', quantity: 1 },
        { part: 'clip', quantity: 1 },
      ],
    },
  });

describe('a quote', () => {
  test('names the job as it was worked by its hash', async () => {
    expect((await priced(job())).jobHash).toBe(hashOf(normaliseJob(job())));
  });

  test('says which value of each setting was used, and whether quote, loom, club or default set it', async () => {
    const result = await priced(
      jobOf({
        parts: [consumable('tie')],
        club: { currency: 'GBP', settings: { slackPercent: 4, tailMm: 5, stripMm: 7 } },
        loom: { parts: [{ part: 'tie', quantity: 1 }], settings: { tailMm: 6, stripMm: 8 } },
        request: { looms: [{ loom: 'l', quantity: 1 }], settings: { stripMm: 9 } },
      }),
    );
    expect(result.looms[0]?.settings).toMatchObject({
      redoMm: { value: 12, origin: 'default' },
      slackPercent: { value: 4, origin: 'club' },
      tailMm: { value: 6, origin: 'loom' },
      stripMm: { value: 9, origin: 'quote' },
    });
    expect(result.settings).toMatchObject({ tailMm: { value: 5, origin: 'club' } });
  });

  test('in a currency without decimals prints none', async () => {
    const yen = (amount: string) => ({ amount, currency: 'JPY' });
    const result = await priced(
      jobOf({
        club: { currency: 'JPY' },
        parts: [consumable('tie')],
        suppliers: [{ code: 's', name: 'S', currency: 'JPY' }],
        offers: [
          { form: 'pack', code: 'o', supplier: 's', part: 'tie', packCount: 1, packPrice: yen('120.5') },
        ],
        loom: { parts: [{ part: 'tie', quantity: 1 }] },
      }),
    );
    expect(result.purchases[0]).toMatchObject({ exactCost: yen('120.5'), cost: yen('121') });
    expect(result.costs.total).toEqual(yen('121'));
  });

  test('carries its cautions, battery and qualified auto-electrician among them', async () => {
    const text = (await priced(job())).cautions.join(' ');
    for (const word of ['battery', 'fuse', 'qualified auto-electrician', 'fumes', 'Fuel', 'road law'])
      expect(text).toContain(word);
  });
});

describe('the control', () => {
  test('is told of the phases in their order', async () => {
    const told: Progress[] = [];
    await priceJob(job(), { ...unhurried, report: (progress) => told.push(progress) });
    const phases = told.map(({ phase }) => phase);
    expect(phases[0]).toBe('rollUp');
    expect(phases).toContain('sourcing');
    expect(phases.at(-1)).toBe('writing');
    expect(told.every(({ message }) => message.length > 0)).toBe(true);
  });

  test('that is cancelled at any look ends the work with Cancelled, or the work is done', async () => {
    let looks = 0;
    await priceJob(job(), { ...unhurried, cancelled: () => (looks++, false) });
    expect(looks).toBeGreaterThan(3);
    for (let at = 1; at <= looks; at++) {
      let look = 0;
      const control: Control = { ...unhurried, cancelled: () => ++look >= at };
      await expect(priceJob(job(), control)).rejects.toThrow(Cancelled);
    }
  });

  test('without time gets the better of single prices and one supplier, with an honest bound', async () => {
    const result = await priced(job(), { ...unhurried, remainingMs: () => 0 });
    expect(result.orderLists.map((list) => list.supplier)).toEqual(['a']);
    expect(result.proof).toMatchObject({ status: 'bestSoFar', cost: gbp('9.00') });
    // No mix costs less than 9.00; what a bound knows of it lies between that and nothing, in whole pence.
    const { bound, gap, gapPercent } = result.proof;
    const [known, open] = [Number(bound.amount), Number(gap.amount)];
    expect(bound.amount).toMatch(/^\d\.\d\d$/);
    expect(known).toBeLessThan(9);
    expect(known + open).toBeCloseTo(9, 9);
    expect(gapPercent).toBeCloseTo((open / 9) * 100, 3);
    expect(result.comparisons[0]).toMatchObject({ total: gbp('11.80'), saving: gbp('2.80'), suppliers: 2 });
  });

  test('whose time runs out after the proof leaves the answer proven, and says that ties were not settled', async () => {
    // Wherever time ends: somewhere it does so between the proof and the ties.
    const ends = await Promise.all(
      Array.from({ length: 40 }, async (_, most) => {
        let looks = 0;
        return priced(job(), { ...unhurried, remainingMs: () => (looks++ <= most ? 60_000 : 0) });
      }),
    );
    const proven = ends.filter(({ proof }) => proof.status === 'proven');
    expect(new Set(proven.map(({ costs }) => costs.total.amount)).size).toBe(1);
    const open = proven.filter(({ proof }) =>
      proof.assumptions.at(-1)?.includes('Not all mixes of the same cost were compared'),
    );
    expect([open.length > 0, open.length < proven.length]).toEqual([true, true]);
  });

  test('of a need far beyond what the solver can count gets an answer that says it is not proven', async () => {
    const result = await priced(
      jobOf({
        quantity: 10_000,
        parts: [consumable('tie')],
        suppliers: [supplier('s')],
        offers: [pack('o', 's', 'tie', 1, '0.01')],
        loom: { parts: [{ part: 'tie', quantity: 1_000_000 }] },
      }),
    );
    expect(result.costs.total.amount).toBe('100000000.00');
    expect(result.proof.status).toBe('bestSoFar');
  });
});
