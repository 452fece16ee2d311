import { describe, expect, it } from 'vitest';
import { compareLooms, type Compared } from '../../worker/engine/buildOrBuy/compare.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { priceJob } from '../../worker/engine/engine.ts';
import type { Control } from '../../worker/engine/model/control.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { Result } from '../../worker/engine/model/result.ts';
import { consumable, gbp, jobOf, pack, supplier, unhurried } from '../engine/fixtures.ts';

type PartInput = JobInput['parts'][number];
type LoomInput = JobInput['looms'][number];
type ForLooms = Extract<PartInput, { kind: 'madeUpLoom' }>['forLooms'];

const made = (code: string, ...forLooms: NonNullable<ForLooms>): PartInput => ({
  kind: 'madeUpLoom',
  code,
  description: `Made up ${code}`,
  forLooms,
});
const loom = (code: string, part: string, more: Partial<LoomInput> = {}): LoomInput => ({
  code,
  name: code,
  parts: [{ part, quantity: 1 }],
  ...more,
});

/** Looms of one part each that costs 10.00 from shop s; nothing is charged for the post. */
function job(
  looms: LoomInput[],
  parts: PartInput[],
  prices: Record<string, string>,
  more: Omit<Partial<JobInput>, 'request'> & { request?: Partial<JobInput['request']> } = {},
): Job {
  const { request, ...rest } = more;
  return jobOf({
    looms,
    parts: [consumable('p'), ...parts],
    suppliers: [supplier('s')],
    offers: [
      pack('p-s', 's', 'p', 1, '10.00'),
      ...Object.entries(prices).map(([part, price]) => pack(`${part}-s`, 's', part, 1, price)),
    ],
    ...rest,
    request: {
      buildOrBuy: {},
      looms: looms.map(({ code }) => ({ loom: code, quantity: 1 })),
      ...request,
    },
  });
}

const compared = (given: Job, control: Control = unhurried) => compareLooms(normaliseJob(given), control);

/** What is bought made, by part and for which looms, and what it comes to, pence. */
function bestOf({ best }: Compared) {
  const { over, under } = best.mix!.total;
  return {
    bought: best.bought.map(({ part, looms }) => `${part} for ${looms.join('+')}`),
    pence: Number(over) / Number(under),
  };
}
const codes = ({ findings }: Compared) => findings.map(({ code }) => code);

describe('a made-up loom', () => {
  it('of several that replace one loom, the cheaper one is bought', async () => {
    const both = job([loom('a', 'p')], [made('x', 'a'), made('y', 'a')], { x: '9.00', y: '8.00' });
    const found = await compared(both);
    expect(bestOf(found)).toEqual({ bought: ['y for a'], pence: 800 });
    expect(found.findings).toEqual([]);
  });

  it('for several looms replaces all of them at once, and never one of them twice', async () => {
    const three = job(
      [loom('a', 'p'), loom('b', 'p'), loom('c', 'p')],
      [made('ab', 'a', 'b'), made('bc', 'b', 'c')],
      { ab: '5.00', bc: '4.00' },
    );
    const found = await compared(three);
    expect(bestOf(found)).toEqual({ bought: ['bc for b+c'], pence: 1400 });
    expect(found.combinations.map(({ bought }) => bought.length).sort()).toEqual([0, 1, 1]);
    expect(found.allBought).toBeUndefined();
  });

  it('is bought as often as its loom is asked for, or not at all', async () => {
    const four = job(
      [loom('a', 'p')],
      [made('x', 'a')],
      { x: '9.00' },
      { request: { looms: [{ loom: 'a', quantity: 4 }] } },
    );
    expect(bestOf(await compared(four))).toEqual({ bought: ['x for a'], pence: 3600 });
    const three = {
      ...four,
      offers: four.offers.map((offer) => (offer.code === 'x-s' ? { ...offer, stockPacks: 3 } : offer)),
    };
    const found = await compared(Job.parse(three));
    expect(bestOf(found)).toEqual({ bought: [], pence: 4000 });
    expect(found.combinations.map(({ state }) => state)).toEqual(['proven', 'impossible']);
  });

  it('is for a loom with just the options that it states', async () => {
    const withOptions = (...forLooms: NonNullable<ForLooms>) =>
      job(
        [loom('a', 'p', { options: ['RHD', 'radio'] })],
        [made('x', ...forLooms)],
        { x: '9.00' },
        { request: { looms: [{ loom: 'a', quantity: 1, options: ['RHD'] }] } },
      );
    expect(bestOf(await compared(withOptions({ loom: 'a', options: ['RHD'] }))).bought).toEqual(['x for a']);
    for (const other of ['a', { loom: 'a', options: ['RHD', 'radio'] }]) {
      const found = await compared(withOptions(other));
      expect(bestOf(found).bought).toEqual([]);
      expect(found.findings).toMatchObject([
        { code: 'made-up-loom-with-other-options', severity: 'note', where: 'made-up loom x' },
      ]);
    }
    // Made with two sets of options, each of the two is a loom of its own.
    const two = Job.parse({
      ...withOptions({ loom: 'a', options: ['RHD'] }),
      request: {
        buildOrBuy: {},
        looms: [
          { loom: 'a', quantity: 1, options: ['RHD'] },
          { loom: 'a', quantity: 1 },
        ],
      },
    });
    expect(bestOf(await compared(two))).toEqual({ bought: ['x for a (RHD)'], pence: 1900 });
  });

  it('that also replaces a loom that is not asked for is not used, and that is told', async () => {
    const looms = [loom('a', 'p'), loom('b', 'p')];
    const request = { looms: [{ loom: 'a', quantity: 1 }] };
    const found = await compared(
      job(looms, [made('ab', 'a', 'b'), made('b-only', 'b')], { ab: '1.00', 'b-only': '1.00' }, { request }),
    );
    expect(bestOf(found).bought).toEqual([]);
    expect(found.findings).toMatchObject([{ code: 'made-up-loom-for-more', where: 'made-up loom ab' }]);
    // A name that no loom has, its own, say, is like one that is not asked for.
    const itself = await compared(job([loom('a', 'p')], [made('x', 'a', 'x')], { x: '1.00' }));
    expect(codes(itself)).toEqual(['made-up-loom-for-more']);
  });

  it('that its own loom lists among its parts is not bought instead of that loom', async () => {
    const found = await compared(job([loom('a', 'x')], [made('x', 'a')], { x: '9.00' }));
    expect(codes(found)).toEqual(['made-up-loom-in-itself']);
    expect(bestOf(found)).toEqual({ bought: [], pence: 900 });
  });

  it('that another loom lists among its parts is bought for both', async () => {
    const found = await compared(job([loom('a', 'p'), loom('b', 'x')], [made('x', 'a')], { x: '9.00' }));
    expect(bestOf(found)).toEqual({ bought: ['x for a'], pence: 1800 });
  });

  it('for looms of which differing numbers are asked for is not used, and that is told', async () => {
    const request = {
      looms: [
        { loom: 'a', quantity: 1 },
        { loom: 'b', quantity: 2 },
      ],
    };
    const found = await compared(
      job([loom('a', 'p'), loom('b', 'p')], [made('ab', 'a', 'b')], { ab: '1.00' }, { request }),
    );
    expect(codes(found)).toEqual(['made-up-loom-quantities-differ']);
  });

  it('that nobody sells is told, and so is that there is none', async () => {
    const one = job([loom('a', 'p')], [made('x', 'a')], {});
    expect((await compared(one)).findings).toMatchObject([
      { code: 'made-up-loom-not-sold', todo: expect.stringContaining('Enter an offer of it') as string },
    ]);
    expect(codes(await compared(job([loom('a', 'p')], [], {})))).toEqual(['no-made-up-loom']);
  });

  it('comes with the order of its loom: one that is too late for the first order may do for the second', async () => {
    const given = job(
      [loom('a', 'p'), loom('b', 'p')],
      [made('x', 'a'), made('y', 'b')],
      {},
      {
        suppliers: [supplier('s'), { ...supplier('t'), leadDays: 40 }],
        offers: [
          pack('p-s', 's', 'p', 1, '10.00'),
          pack('x-t', 't', 'x', 1, '9.00'),
          pack('y-t', 't', 'y', 1, '9.00'),
        ],
        request: {
          buildOrBuy: { order: 'cheapest' },
          neededBy: '2026-03-20',
          looms: [
            { loom: 'a', quantity: 1 },
            { loom: 'b', quantity: 1, wave: 2 },
          ],
        },
      },
    );
    const { orderLists } = Result.parse(await priceJob(given, unhurried));
    expect(orderLists.map(({ wave, lines }) => [wave, lines.map(({ offer }) => offer)])).toEqual([
      [1, ['p-s']],
      [2, ['y-t']],
    ]);
  });
});

describe('between a loom that is built and one that is bought made', () => {
  const housing = (code: string, mate: string): PartInput => ({
    kind: 'housing',
    code,
    description: code,
    ways: 1,
    mates: [mate],
  });
  const half = (part: string, other: string) => ({
    id: 'X',
    kind: 'connector' as const,
    part,
    matedTo: { loom: other, point: 'X' },
  });
  const parts = [housing('plug', 'socket'), housing('socket', 'plug'), consumable('q')];
  const prices = { plug: '2.00', socket: '3.00', q: '20.00', x: '9.00' };
  const boughtFor = async (given: Job) => {
    const { purchases, leftOut, findings } = Result.parse(await priceJob(given, unhurried));
    return {
      offers: purchases.map(({ offer }) => offer).sort(),
      leftOut,
      codes: findings.map(({ code }) => code),
    };
  };
  const cheapest = { request: { buildOrBuy: { order: 'cheapest' as const } } };

  it('the half of the built one is bought, and the other comes with the loom', async () => {
    const a = loom('a', 'p', { points: [half('plug', 'b')] });
    const b = loom('b', 'q', { points: [half('socket', 'a')] });
    const found = await boughtFor(job([a, b], [...parts, made('x', 'b')], prices, cheapest));
    expect(found.offers).toEqual(['p-s', 'plug-s', 'x-s']);
    expect(found.codes).not.toContain('other-loom-not-quoted');
  });

  it('a joiner that the built one brings is bought', async () => {
    const a = loom('a', 'p', { points: [{ id: 'J', kind: 'connector', part: 'plug' }] });
    const b = loom('b', 'q', { points: [{ id: 'J', kind: 'connector', part: 'plug', suppliedByLoom: 'a' }] });
    const found = await boughtFor(job([a, b], [...parts, made('x', 'b')], prices, cheapest));
    expect(found.offers).toEqual(['p-s', 'plug-s', 'x-s']);
  });

  it('a joiner that the bought one brings comes with it', async () => {
    const a = loom('a', 'p', { points: [{ id: 'J', kind: 'connector', part: 'plug', suppliedByLoom: 'b' }] });
    const b = loom('b', 'q', { points: [{ id: 'J', kind: 'connector', part: 'plug' }] });
    const found = await boughtFor(job([a, b], [...parts, made('x', 'b')], prices, cheapest));
    expect(found.offers).toEqual(['p-s', 'x-s']);
    expect(found.codes).not.toContain('other-loom-not-quoted');
  });

  it('what the bought one reuses is not listed', async () => {
    const b = loom('b', 'q', { points: [{ id: 'J', kind: 'connector', part: 'plug', supply: 'reuse' }] });
    const found = await boughtFor(job([loom('a', 'p'), b], [...parts, made('x', 'b')], prices, cheapest));
    expect(found.leftOut).toEqual([]);
  });

  it('the checks see both as they are drawn, and tell nothing of the bought one alone', async () => {
    const joiner = { id: 'J', kind: 'joiner' as const };
    const a = loom('a', 'p', { points: [joiner] });
    const b = loom('b', 'q', { points: [joiner] });
    const given = job([a, b], [...parts, made('x', 'b')], prices, cheapest);
    const { findings } = await priceJob(given, unhurried);
    expect(findings.filter(({ code }) => code === 'joiner-unused').map(({ where }) => where)).toEqual([
      'loom a, point J',
    ]);
  });
});

describe('the comparison', () => {
  it('prefers a combination that leaves nothing undone to a cheaper one that does', async () => {
    // One supplier at most: with the loom bought from t, nothing can come from s.
    const given = job(
      [loom('a', 'p'), loom('b', 'p')],
      [made('x', 'a')],
      {},
      {
        suppliers: [supplier('s'), supplier('t')],
        offers: [pack('p-s', 's', 'p', 1, '10.00'), pack('x-t', 't', 'x', 1, '0.10')],
        request: { atMostSuppliers: 1 },
      },
    );
    expect(bestOf(await compared(given))).toEqual({ bought: [], pence: 2000 });
  });

  it('without time tells what is not known, with a bound that holds', async () => {
    const given = job([loom('a', 'p')], [made('x', 'a')], { x: '9.00' });
    const late = await priceJob(given, unhurried, {
      buildOrBuy: () => ({ ...unhurried, remainingMs: () => 0 }),
    });
    expect(late.buildOrBuy).toMatchObject({
      ...{ best: 0, proven: false, bound: gbp('0.00'), notWorked: { combinations: 1, why: 'time' } },
      combinations: [{ state: 'proven', total: gbp('10.00') }, { state: 'notWorked' }],
    });
    expect(late.timeLimited).toEqual(['buildOrBuy']);
    expect(late.findings.map(({ code }) => code)).toContain('build-or-buy-unfinished');
  });

  it('of more combinations than it works out keeps what saves, says so, and claims no proof', async () => {
    const names = Array.from({ length: 9 }, (_, index) => `l${index}`);
    const prices = Object.fromEntries(names.map((name, index) => [`x${name}`, index < 4 ? '9.00' : '11.00']));
    const given = job(
      names.map((name) => loom(name, 'p')),
      names.map((name) => made(`x${name}`, name)),
      prices,
    );
    const found = await compared(given);
    expect(bestOf(found)).toEqual({
      bought: names.slice(0, 4).map((name) => `x${name} for ${name}`),
      pence: 8600,
    });
    expect(found.proven).toBe(false);
    expect(found.combinations.length + found.more).toBe(2 ** 9);
    expect(2 ** 9).toBeGreaterThan(LIMITS.combinations);
    expect(codes(found)).toEqual(['too-many-combinations']);
  });

  it('is cancelled like all work', async () => {
    const given = job([loom('a', 'p')], [made('x', 'a')], { x: '9.00' });
    await expect(compared(given, { ...unhurried, cancelled: () => true })).rejects.toThrow('cancelled');
  });

  it('counts what nobody sells, and warns that the total is without it', async () => {
    const given = job([loom('a', 'q')], [consumable('q'), made('x', 'a')], { x: '9.00' });
    const found = await compared(given);
    expect(codes(found)).toEqual(['build-or-buy-incomplete']);
    expect(found.best.mix?.unsourced).toBe(1);
  });
});
