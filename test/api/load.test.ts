import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadJob, termsApart } from '../../api/client.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { callerInto } from '../support/callerInto.ts';
import { exampleJob } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { lanes, rates } from '../support/terms.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());

describe('a job file with rates, lanes and stock', () => {
  const file = (): Job => {
    const example: JobInput = exampleJob('three-wires');
    const part = example.parts[0]?.code ?? '';
    return Job.parse({
      ...example,
      club: { ...example.club, country: 'GB' },
      rates,
      lanes,
      stock: [{ code: 'shelf', form: 'pieces', part, count: 3 }],
    });
  };

  test('brings them all; a second time they are there already, and what differs or clashes is named and stays', async () => {
    const own = await house.club();
    const api = await callerInto(house, own);
    const job = file();
    expect(await loadJob(api, job)).toMatchObject({ refused: [], differing: [], same: 0 });
    const client = await own.as('viewer');
    for (const name of ['rates', 'lanes', 'stock'] as const)
      expect((await client.get(`/v1/${name}`)).json<{ items: unknown[] }>().items).toEqual(job[name]);
    const again = await loadJob(api, job);
    expect(again).toMatchObject({ added: 0, refused: [], differing: [] });
    const changed = await loadJob(api, {
      ...job,
      rates: job.rates.map((rate, at) =>
        at === 0 ? { ...rate, code: 'renamed' } : { ...rate, rate: '0.7' },
      ),
    });
    expect(changed).toMatchObject({ added: 0, differing: ['rates usd-nov'] });
    expect(changed.refused).toEqual([
      { entry: 'rates renamed', why: expect.stringContaining('already, eur-nov') as string },
    ]);
    expect((await client.get('/v1/rates')).json<{ items: unknown[] }>().items).toEqual(rates);
  });

  test('does not bring its rates into a club of another currency, where they would be wrong', async () => {
    const own = await house.club('CHF');
    const loaded = await loadJob(await callerInto(house, own), file());
    expect(loaded.refused.map(({ entry }) => entry)).toEqual(['rates eur-nov', 'rates usd-nov']);
    for (const { why } of loaded.refused) expect(why).toMatch(/GBP.*CHF.*--terms/);
    const client = await own.as('viewer');
    expect((await client.get('/v1/rates')).json()).toEqual({ items: [], next: null });
    expect((await client.get('/v1/lanes')).json<{ items: unknown[] }>().items).toHaveLength(2);
  });

  test('has terms that differ from a club’s by their country too', () => {
    const terms = { currency: 'GBP', settings: {} };
    expect(termsApart({ ...terms, country: 'GB' }, terms)).toEqual(['country: file GB, club unset']);
    expect(termsApart(terms, { ...terms, country: 'IE' })).toEqual(['country: file unset, club IE']);
    expect(termsApart({ ...terms, country: 'IE' }, { ...terms, country: 'IE' })).toEqual([]);
  });
});
