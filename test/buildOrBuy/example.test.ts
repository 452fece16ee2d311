import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { priceJob, quoteJob } from '../../worker/engine/engine.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { OfferNotUsable } from '../../worker/engine/model/notUsable.ts';
import { Result } from '../../worker/engine/model/result.ts';
import { winningPrice } from '../../worker/engine/winning/winningPrice.ts';
import { unhurried } from '../engine/fixtures.ts';

const file = new URL('../../examples/build-or-buy/job.json', import.meta.url);
const example = JSON.parse(readFileSync(file, 'utf8')) as JobInput;

function asking(buildOrBuy: object, settings: object = {}): Job {
  const { request } = example;
  const asked = { ...request.buildOrBuy, ...buildOrBuy };
  return Job.parse({
    ...example,
    request: { ...request, buildOrBuy: asked, settings: { ...request.settings, ...settings } },
  });
}

const priced = async (buildOrBuy: object) => Result.parse(await priceJob(asking(buildOrBuy), unhurried));

const gbp = (amount: string) => ({ amount, currency: 'GBP' });

// The figures of examples/build-or-buy/README.md, worked on paper.
describe('the example of building or buying', () => {
  let result: Result;
  beforeAll(async () => {
    result = await priced({});
  });

  it('comes to the sums of its README, to the penny', () => {
    const rows = result.buildOrBuy!.combinations.map(
      ({ built, bought, delivered, cost, minutes, labour, total, leadDays, state }) => [
        built.join(),
        bought.map(({ part }) => part).join(),
        delivered?.amount,
        cost?.amount,
        minutes,
        labour.amount,
        total?.amount,
        leadDays,
        state,
      ],
    );
    expect(rows).toEqual([
      ['sedge-front,sedge-rear', '', '42.80', '33.80', 296, '118.40', '152.20', 3, 'proven'],
      ['', 'sedge-front-made,sedge-rear-made', '136.89', '136.89', 52, '20.80', '157.69', 14, 'proven'],
      ['sedge-front', 'sedge-rear-made', '93.89', '84.89', 164, '65.60', '150.49', 14, 'proven'],
      ['sedge-rear', 'sedge-front-made', '113.50', '104.50', 184, '73.60', '178.10', 3, 'proven'],
    ]);
  });

  it('tells which is best, and where the worth of an hour makes them meet', () => {
    expect(result.buildOrBuy).toMatchObject({
      order: 'cheapest',
      hourWorth: gbp('24.00'),
      ...{ best: 2, allBuilt: 0, allBought: 1, proven: true, bound: gbp('150.49') },
      againstAllBought: { saving: gbp('103.09'), minutes: 244, hourWorth: gbp('25.35') },
      againstBest: { saving: gbp('51.09'), minutes: 132, hourWorth: gbp('23.22') },
    });
    expect(
      result.buildOrBuy?.labour.map(({ loom, minutes, minutesIfBought }) => [loom, minutes, minutesIfBought]),
    ).toEqual([
      ['sedge-front', 133, 21],
      ['sedge-rear', 163, 31],
    ]);
    const [, , best] = result.buildOrBuy!.combinations;
    expect(best?.tools).toEqual([
      {
        part: 'teal-pliers',
        label: 'Crimp pliers for Teal contacts',
        paid: gbp('24.00'),
        counted: gbp('12.00'),
      },
      { label: 'blades and cleaner', paid: gbp('3.00'), counted: gbp('3.00') },
    ]);
  });

  it('orders the best combination: what the front loom needs, and the rear one made', () => {
    expect(result.orderLists.map(({ supplier, total }) => [supplier, total.amount])).toEqual([
      ['havel', '57.89'],
      ['marram', '36.00'],
    ]);
    expect(result.costs.total).toEqual(gbp('93.89'));
    expect(result.purchases.map(({ offer }) => offer).sort()).toEqual([
      'havel-rear',
      'marram-black',
      'marram-blade-63',
      'marram-red',
      'marram-ring-6',
      'marram-teal-2',
      'marram-teal-pin',
      'marram-teal-pliers',
    ]);
    expect(result.looms.map(({ loom, boughtMade }) => [loom, boughtMade])).toEqual([
      ['sedge-front', undefined],
      ['sedge-rear', 'sedge-rear-made'],
    ]);
    expect(result.circuits.flatMap(({ wires }) => wires).every(({ loom }) => loom === 'sedge-front')).toBe(
      true,
    );
    expect(result.findings.filter(({ where }) => where.includes('sedge-rear'))).toEqual([]);
    expect(result.notYetUsed).toEqual([]);
  });

  it('orders what building both needs where that is asked, with the same comparison beside it', async () => {
    const built = await priced({ order: 'build' });
    expect(built.costs.total).toEqual(gbp('42.80'));
    expect(built.looms.every(({ boughtMade }) => boughtMade === undefined)).toBe(true);
    expect(built.buildOrBuy).toEqual({ ...result.buildOrBuy, order: 'build' });
  });

  it('builds both where an hour is worth less than where they meet, and buys the rear one above', async () => {
    for (const [worth, best] of [
      ['0.00', 0],
      ['23.22', 0],
      ['23.23', 2],
    ] as const)
      expect((await priced({ hourWorth: gbp(worth) })).buildOrBuy?.best).toBe(best);
  });

  it('is worked after the quote and what lies beside it, each of which can be read meanwhile', async () => {
    const quote = await quoteJob(asking({ order: 'build' }, { besideSeconds: 60 }), unhurried);
    const states = [
      quote.result(),
      await quote.withBeside!(unhurried),
      await quote.withBuildOrBuy!(unhurried),
    ].map(({ besideState, beside, buildOrBuyState, buildOrBuy }) => [
      besideState ?? beside !== undefined,
      buildOrBuyState ?? buildOrBuy !== undefined,
    ]);
    expect(states).toEqual([
      ['working', 'working'],
      [true, 'working'],
      [true, true],
    ]);
  });

  it('tells at which price a made-up loom is bought only where the order is for the cheapest', async () => {
    expect(await winningPrice(asking({}), 'havel-rear', unhurried)).toMatchObject({ offer: 'havel-rear' });
    const building = winningPrice(asking({ order: 'build' }), 'havel-rear', unhurried);
    await expect(building).rejects.toThrow(OfferNotUsable);
  });

  it('has no comparison, and names what it does not use, where none is asked for', async () => {
    const { buildOrBuy: _asked, ...request } = example.request;
    const plain = await priceJob(Job.parse({ ...example, request }), unhurried);
    expect(plain).not.toHaveProperty('buildOrBuy');
    expect(plain.notYetUsed.map(({ field }) => field)).toEqual(['parts[kind=madeUpLoom].forLooms']);
  });
});
