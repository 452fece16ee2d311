import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { Unreachable, type Caller } from '../../api/client.ts';
import { loadedTablesText } from '../../api/load/loadedTablesText.ts';
import { loadedText } from '../../api/load/loadedText.ts';
import { loadJob } from '../../api/load/loadJob.ts';
import { loadTables } from '../../api/load/loadTables.ts';
import { termsApart } from '../../api/load/terms.ts';
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

describe('a job file that is loaded again, changed', () => {
  /** The example with one of everything that a file can bring. */
  const file = (): Job => {
    const example: JobInput = exampleJob('three-wires');
    const [first, second] = example.parts.map(({ code }) => code);
    const fits = [{ from: first ?? '', relation: 'standsInFor' as const, to: second ?? '' }];
    const held = [{ code: 'shelf', form: 'length' as const, part: first ?? '', count: 3, lengthMm: 500 }];
    return Job.parse({ ...example, rates, lanes, stock: held, fits });
  };
  const first = <T extends object>(list: T[], change: (item: T) => object) =>
    list.map((item, at) => (at === 0 ? { ...item, ...change(item) } : item));
  /** One field of the first of each kind is another. */
  const changed = (): Job => {
    const job = file();
    return Job.parse({
      ...job,
      parts: first(job.parts, () => ({ description: 'Seen again' })),
      suppliers: first(job.suppliers, () => ({ handling: { amount: '0.50', currency: 'GBP' } })),
      offers: first(job.offers, () => ({ pricePerMetre: { amount: '0.525', currency: 'GBP' } })),
      fits: first(job.fits, () => ({ status: 'refuted' })),
      rates: first(job.rates, () => ({ rate: '0.9' })),
      lanes: first(job.lanes, () => ({ taxPercent: 21 })),
      stock: first(job.stock, () => ({ count: 2 })),
      looms: first(job.looms, (loom) => ({
        wires: first(loom.wires, ({ length }) => ({ length: { ...length, mm: 777 } })),
      })),
    });
  };
  const KINDS = ['part', 'supplier', 'offer', 'fit', 'rate', 'lane', 'stock item', 'loom'];
  /** All that the club has, with the latest revision of its loom. */
  const held = async (api: Caller) => {
    const lists = ['parts', 'suppliers', 'offers', 'fits', 'rates', 'lanes', 'stock', 'looms/horn-lead'];
    return Promise.all(lists.map(async (list) => (await (await api.get(`/v1/${list}`)).json()) as object));
  };
  const kinds = (entries: { entry: string }[]) => entries.map(({ entry }) => entry.replace(/ \S+$/, ''));

  test('tells what differs field by field and leaves it alone, unless it is to be updated', async () => {
    const api = await callerInto(house, await house.club());
    await loadJob(api, file());
    const before = await held(api);
    for (const way of ['add', 'preview'] as const) {
      const left = await loadJob(api, changed(), { way });
      expect([left.added, left.updated, left.refused]).toEqual([[], [], []]);
      expect(kinds(left.differing)).toEqual(KINDS);
      const text = loadedText(left, way);
      expect(text).toMatch(/^ {2}pricePerMetre: 0\.515 GBP in the club, 0\.525 GBP in the file$/m);
      expect(text).toMatch(/^ {2}wire W1, length, mm: \d+ in the club, 777 in the file$/m);
      expect(text).toMatch(/^ {2}handling: nothing in the club, 0\.50 GBP in the file$/m);
      expect(text).toContain(way === 'preview' ? 'Nothing was written.' : 'run this again with --update');
      expect(await held(api)).toEqual(before);
    }
  });

  test('is set to the file with update, the loom by its next revision, and is the same from then on', async () => {
    const api = await callerInto(house, await house.club());
    const count = (await loadJob(api, file())).added.length;
    const loaded = await loadJob(api, changed(), { way: 'update' });
    expect([loaded.added, loaded.differing, loaded.refused]).toEqual([[], [], []]);
    expect(kinds(loaded.updated)).toEqual(KINDS);
    expect(loaded.same).toBe(count - KINDS.length);
    const text = loadedText(loaded, 'update');
    expect(text).toContain('loom horn-lead was updated as its revision 2:\n  wire W1, length, mm: ');
    expect(text).toMatch(/^ {2}pricePerMetre: 0\.515 GBP before, 0\.525 GBP now$/m);
    const { wires } = (await (await api.get('/v1/looms/horn-lead/revisions/1')).json()) as Job['looms'][0];
    expect(wires).toEqual(file().looms[0]?.wires);
    expect(await loadJob(api, changed())).toMatchObject({
      added: [],
      differing: [],
      refused: [],
      same: count,
    });
  });

  test('is told in full by a preview of a club that has nothing, which writes nothing', async () => {
    const api = await callerInto(house, await house.club());
    const preview = await loadJob(api, file(), { way: 'preview' });
    expect(preview.differing).toEqual([]);
    expect(loadedText(preview, 'preview')).toContain('part tw-1-purple would be added.\n');
    expect((await held(api).catch((error: unknown) => error)) as Error).toMatchObject({ status: 404 });
    expect((await loadJob(api, file())).added).toEqual(preview.added);
  });

  test('loses none of the rest where one entry is refused; that one is told with where and why', async () => {
    const api = await callerInto(house, await house.club());
    const job = file();
    const [offer, ...others] = job.offers;
    const bad = { ...job, offers: [{ ...offer, seenOn: 'yesterday' } as typeof offer & object, ...others] };
    const loaded = await loadJob(api, bad, { way: 'update' });
    expect(loaded.refused).toEqual([
      { entry: `offer ${offer?.code}`, why: expect.stringMatching(/seenOn: found "yesterday"/) as string },
    ]);
    expect(loaded.added).toContain('loom horn-lead');
    expect(loadedText(loaded, 'update')).toContain(`offer ${offer?.code} was not loaded: `);
  });

  test('stops where the server is gone, and says from which entry on nothing was loaded', async () => {
    const api = await callerInto(house, await house.club());
    let calls = 0;
    const gone: Caller = {
      ...api,
      send: (...call) =>
        ++calls > 2 ? Promise.reject(new Unreachable('No server answers there.')) : api.send(...call),
    };
    const loaded = await loadJob(gone, file());
    expect(loaded.added).toHaveLength(2);
    expect(loaded.refused).toEqual([
      {
        entry: expect.stringMatching(/^part .* and what follows$/) as string,
        why: 'No server answers there.',
      },
    ]);
  });
});

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
    expect(again).toMatchObject({ added: [], refused: [], differing: [] });
    const changed = await loadJob(api, {
      ...job,
      rates: job.rates.map((rate, at) =>
        at === 0 ? { ...rate, code: 'renamed' } : { ...rate, rate: '0.7' },
      ),
    });
    expect(changed).toMatchObject({ added: [], differing: [{ entry: 'rate usd-nov' }] });
    expect(changed.refused).toEqual([
      { entry: 'rate renamed', why: expect.stringContaining('already exists: eur-nov') as string },
    ]);
    expect((await client.get('/v1/rates')).json<{ items: unknown[] }>().items).toEqual(rates);
  });

  test('does not bring its rates into a club of another currency, where they would be wrong', async () => {
    const own = await house.club('CHF');
    const loaded = await loadJob(await callerInto(house, own), file());
    expect(loaded.refused.map(({ entry }) => entry)).toEqual(['rate eur-nov', 'rate usd-nov']);
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

describe('tables that are loaded', () => {
  test('come in by their order; what differs stays until it is asked for, and a preview writes nothing', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'loomwright-load-'));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    const put = (name: string, ...rows: string[]) => writeFileSync(join(folder, name), rows.join('\n'));
    put('parts.csv', 'code,kind,description,terminal type', 'ring-6,terminal,Ring,ring');
    put('suppliers.csv', 'code,name,currency', 'ash,Ash,GBP');
    const offers = (price: string) =>
      put(
        'offers.csv',
        'code;sold by;part;price;pieces in a pack',
        `a;pack;ring-6;${price};10`,
        'b;pack;ring-7;1,20;10',
      );
    offers('2,40');
    const own = await house.club();
    const api = await callerInto(house, own);
    const viewer = await own.as('viewer');
    const load = (way: 'add' | 'update' | 'preview') =>
      loadTables(
        api,
        (['parts', 'suppliers', 'offers'] as const).map((name) => ({
          name,
          path: join(folder, `${name}.csv`),
        })),
        { way, query: { decimalComma: 'true', supplier: 'ash' }, own: new Set(['"ring-6"', '"ash"']) },
      );
    const counts = (loaded: Awaited<ReturnType<typeof load>>) =>
      loaded.map(({ told }) => [told?.new, told?.changed, told?.unchanged, told?.faults]);
    const price = async () => (await viewer.get('/v1/offers/a')).json()['packPrice'];
    const preview = await load('preview');
    expect((await viewer.get('/v1/parts')).json()).toEqual({ items: [], next: null });
    const first = await load('add');
    expect(counts(first)).toEqual([
      [1, 0, 0, 0],
      [1, 0, 0, 0],
      [1, 0, 0, 1],
    ]);
    expect(counts(preview)).toEqual(counts(first));
    expect(loadedTablesText(first, 'add')).toContain(
      'row 3, column part: found "ring-7". There is no part ring-7. Add it first, or name another one. Did you mean ring-6?',
    );
    offers('2,50');
    const again = await load('add');
    expect(counts(again)[2]).toEqual([0, 1, 0, 1]);
    expect(await price()).toEqual({ amount: '2.40', currency: 'GBP' });
    expect(loadedTablesText(again, 'add')).toContain('a, price: “2,40” in the club, “2,50” in the file');
    await load('update');
    expect(await price()).toEqual({ amount: '2.50', currency: 'GBP' });
  });
});
