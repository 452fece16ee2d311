import { readFile, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { archiveLimits } from '../../api/archive/limits.ts';
import { entriesOf } from '../../api/archive/readArchive.ts';
import { withScratch } from '../../api/http/scratch.ts';
import { writeArchive } from '../../api/archive/writeArchive.ts';
import { newKey } from '../../api/newKey.ts';
import type { ArchiveImport } from '../../api/routes/archive.ts';
import { importClub } from '../../db/archive/importClub.ts';
import { total } from '../../db/archive/report.ts';
import { clubNamed } from '../../db/clubs.ts';
import { connectMemory } from '../../db/connect.ts';
import { asSystem } from '../../db/system.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import {
  archiveOf,
  asMember,
  contentOf,
  exported,
  linesOf,
  packed,
  restoredIn,
  revise,
  sent,
  smallEntries,
  totals,
} from '../support/archives.ts';
import { callerInto } from '../support/callerInto.ts';
import type { Client, Got } from '../support/client.ts';
import { emptyFolder } from '../support/emptyFolder.ts';
import { exampleJob, loadSmall } from '../support/fixtures.ts';
import { testFounder } from '../support/founder.ts';
import { LIVED, liveIn } from '../support/livedIn.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';
import { storeJob } from '../support/storeJob.ts';
import { askQuote, untilTask } from '../support/taskRows.ts';
import { lanes, rates } from '../support/terms.ts';

let house: TestHouse;
/** A club with one of everything, and its archive. */
let club: TestClub;
let admin: Client;
let archive: Uint8Array;
/** A club that it was read into. */
let other: Awaited<ReturnType<typeof restoredIn>>;
let done: string;
let queued: { quote: string; task: string };

const MIB = 1024 ** 2;
const atOnce = { besideSeconds: 0 };
const said = (got: Got) => got.json<ArchiveImport>();

/** The example worked by hand with rates, lanes, something on the shelf and a fit beside it. */
function termsJob(): JobInput {
  const example = exampleJob('three-wires');
  const codes = [example.parts, example.suppliers, example.offers].flat().map(({ code }) => code);
  // The van has some of these codes for things of its own.
  const renamed = codes.reduce(
    (text, code) => text.replaceAll(`"${code}"`, `"t-${code}"`),
    JSON.stringify(example),
  );
  const job = JSON.parse(renamed) as JobInput;
  const [first = '', second = ''] = job.parts.map(({ code }) => code);
  return {
    ...job,
    club: { currency: 'GBP', country: 'GB', settings: { slackPercent: 3, ...atOnce } },
    rates,
    lanes,
    fits: [{ from: first, relation: 'standsInFor', to: second, by: 'Zoë, the parts officer' }],
    stock: [{ code: 'shelf', form: 'length', part: first, count: 3, lengthMm: 500 }],
  };
}

beforeAll(async () => {
  house = await openHouse({ archiveBytes: 4 * MIB });
  club = await house.club();
  const ada = await club.joined('admin', 'Ada');
  admin = ada.client;
  await storeJob(club, exampleJob('van'));
  await storeJob(club, termsJob());
  await liveIn(club, ada);
  await revise(admin, exampleJob('van').looms[0]?.code ?? '');
  const worker = await house.startWorker();
  const asked = await askQuote(admin, 'horn-lead', atOnce);
  await untilTask(house.database, asked.task, { state: 'done' });
  done = `/v1/quotes/${asked.quote}`;
  const offer = termsJob().offers[0]?.code ?? '';
  const winning = await admin.post(`${done}/winning-prices`, { offer });
  const task = winning.json<{ task: string }>().task.split('/').at(-1) ?? '';
  await untilTask(house.database, task, { state: 'done' });
  await worker.stop();
  const cancelled = await askQuote(admin, 'horn-lead', atOnce);
  expect((await admin.post(`/v1/tasks/${cancelled.task}/cancel`, undefined)).status).toBe(202);
  queued = await askQuote(admin, 'horn-lead', atOnce);
  archive = await exported(admin);
  other = await restoredIn(house, archive);
  other.admin = await asMember(house, other.club.name, 'Ada');
  // A quote and a winning price are worked here, beside other tests.
}, 180_000);
afterAll(() => house.close());

describe('an archive of a club', () => {
  test('has an entry for everything, under a head with the club’s name, and neither keys and invitations nor what was done to them', () => {
    const [head, ...lines] = linesOf(archive);
    expect(JSON.parse(head ?? '')).toMatchObject({
      format: 'loomwright-archive',
      version: 1,
      club: club.name,
    });
    const { counts } = JSON.parse(lines.at(-1) ?? '') as { counts: Record<string, number> };
    const van = exampleJob('van');
    const terms = termsJob();
    const offers = van.offers.length + terms.offers.length;
    expect(counts).toMatchObject({
      club: 1,
      member: LIVED.member,
      synonyms: 1,
      part: van.parts.length + terms.parts.length + LIVED.part,
      supplier: van.suppliers.length + terms.suppliers.length + LIVED.supplier,
      offerPrice: offers + LIVED.offerPrice,
      offer: offers + LIVED.offer,
      fitReport: LIVED.fitReport,
      rate: rates.length,
      lane: lanes.length,
      loom: van.looms.length + terms.looms.length + LIVED.loom,
      revision: van.looms.length + terms.looms.length + 1 + LIVED.revision,
      quote: 3 + LIVED.quote,
      winningPrice: 1,
    });
    const text = lines.join('\n');
    expect(text).not.toMatch(/lw_|"hash"|key\.create|club\.create|join_|invitation\.|ada@club/);
    expect(text).toMatch(/"action":"quote.create"/);
  });

  test('restores an equal club: its export is the same to the byte, and a second import finds all of it equal', async () => {
    const entries = linesOf(archive).length - 2;
    expect([other.got.status, said(other.got).written, totals(said(other.got))]).toEqual([
      200,
      true,
      { new: entries, equal: 0, differs: 0 },
    ]);
    const again = await exported(other.admin);
    expect(contentOf(again)).toEqual(contentOf(archive));
    const second = await sent(other.admin, archive);
    expect(totals(said(second))).toEqual({ new: 0, equal: entries, differs: 0 });
    expect(contentOf(await exported(other.admin))).toEqual(contentOf(archive));
    // The club that it came from has all of it too.
    expect(totals(said(await sent(admin, archive)))).toEqual({ new: 0, equal: entries, differs: 0 });
  });

  test('restores what the API shows: terms, looms with their revisions and ETags, quotes with their results', async () => {
    const van = exampleJob('van').looms[0]?.code ?? '';
    const paths = [
      `/v1/looms/${van}`,
      `/v1/looms/${van}/revisions`,
      `/v1/looms/${van}/revisions/1`,
      `/v1/offers/${exampleJob('van').offers[0]?.code}`,
      `/v1/parts/${exampleJob('van').parts[0]?.code}`,
      '/v1/fits',
      '/v1/stock',
      `${done}/job`,
      `${done}/result`,
      `${done}/order-lists`,
      `/v1/parts/${exampleJob('van').parts[0]?.code}/prices`,
    ];
    for (const path of paths) {
      const [theirs, ours] = [await other.admin.get(path), await admin.get(path)];
      expect([path, theirs.status, theirs.text]).toEqual([path, 200, ours.text]);
      expect([path, theirs.headers.get('etag')]).toEqual([path, ours.headers.get('etag')]);
    }
    expect((await other.admin.get('/v1/club')).json()).toMatchObject({
      name: other.club.name,
      currency: 'GBP',
      country: 'GB',
      settings: { slackPercent: 3 },
    });
    const withoutTask = (got: Got) =>
      got.text.replaceAll(/"\/v1\/tasks\/[^"]*"/g, '_').replaceAll(/"id":"[^"]*"/g, '_');
    for (const list of ['/v1/quotes', `${done}/winning-prices`])
      expect(withoutTask(await other.admin.get(list))).toBe(withoutTask(await admin.get(list)));
    const { task } = (await other.admin.get(done)).json<{ task: string }>();
    const { task: before } = (await admin.get(done)).json<{ task: string }>();
    expect(withoutTask(await other.admin.get(task)).replaceAll(task, before)).toContain('"state":"done"');
    // What is kept for whoever comes after: a part that a loom names stays.
    const part = `/v1/parts/${termsJob().parts[0]?.code}`;
    const tag = (await other.admin.get(part)).headers.get('etag') ?? '';
    expect((await other.admin.delete(part, { 'if-match': tag })).status).toBe(409);
  });

  test('brings back a quote that was not worked yet as one that waits, and it is worked', async () => {
    const path = `/v1/quotes/${queued.quote}`;
    const { state, task } = (await other.admin.get(path)).json<{ state: string; task: string }>();
    expect(state).toBe('queued');
    expect(task).not.toContain(queued.task);
    const worker = await house.startWorker();
    await untilTask(house.database, task.split('/').at(-1) ?? '', { state: 'done' });
    await worker.stop();
    // The same request of the same club on the same day: the same bytes.
    expect((await other.admin.get(`${path}/result`)).text).toBe((await admin.get(`${done}/result`)).text);
  });

  test('holds nothing of another club, and changes nothing of one when it is read in beside it', async () => {
    const client = await (await house.club()).as('admin');
    await loadSmall(client);
    const own = await exported(client);
    expect(linesOf(own).join('\n')).not.toMatch(/horn-lead|van-/);
    const before = contentOf(await exported(admin)).join('\n');
    await restoredIn(house, own);
    expect(contentOf(await exported(admin)).join('\n')).toBe(before);
  });

  test.each(['viewer', 'member', 'editor'] as const)(
    'is neither given to nor taken from a %s',
    async (role) => {
      const client = await club.as(role);
      expect((await client.get('/v1/club/archive')).status).toBe(403);
      expect((await sent(client, archive)).status).toBe(403);
    },
  );

  testOnlyIn('service', 'it goes from the embedded database to PostgreSQL and back')(
    'goes from an embedded folder into the service and back, and is the same all the way',
    async () => {
      const embedded = await connectMemory(await emptyFolder());
      onTestFinished(() => embedded.close());
      const limits = archiveLimits({ bodyBytes: 16 * 1024 ** 2, archiveBytes: 16 * 1024 ** 2 });
      const made = async (name: string) =>
        asSystem(embedded, (tx) => clubNamed(tx, testFounder, { name, currency: 'GBP' }));
      const { club: home } = await made('My club');
      await withScratch(async (file) => {
        await writeFile(file, archive);
        const brought = await importClub(
          embedded,
          { ...testFounder, club: home.id },
          {
            entries: entriesOf(file, limits),
            preview: false,
          },
        );
        expect([brought.stands, total(brought, 'differs')]).toEqual([true, 0]);
      });
      const out = await withScratch(async (file) => {
        await writeArchive(embedded, { ...testFounder, club: home.id }, file);
        const { secret } = await newKey(house.database, testFounder, {
          club: 'My club',
          role: 'admin',
          label: 'of the new home',
          make: true,
          currency: 'EUR',
        });
        const client = house.anonymous.with({ authorization: `Bearer ${secret}` });
        const bytes = new Uint8Array(await readFile(file));
        expect(said(await sent(client, bytes)).written).toBe(true);
        expect(contentOf(await exported(client))).toEqual(contentOf(bytes));
        return bytes;
      });
      expect(contentOf(out)).toEqual(contentOf(archive));
    },
    180_000,
  );
});

test('the commands’ caller takes an archive to a server and brings one back over HTTP', async () => {
  const empty = await house.club();
  const api = await callerInto(house, empty, 'admin');
  await withScratch(async (file) => {
    await writeFile(file, packed(archiveOf(smallEntries())));
    const came = await api.sendFile('/v1/club/archive', file, 'application/gzip');
    expect(((await came.json()) as ArchiveImport).written).toBe(true);
    const back = await api.get('/v1/club/archive');
    const bytes = new Uint8Array(await back.arrayBuffer());
    expect(back.headers.get('content-length')).toBe(String(bytes.length));
    // What was written by hand, in the form that an archive had before it had prices: these start anew.
    const there = contentOf(bytes)
      .slice(0, -1)
      .map((line) => JSON.parse(line) as { type: string; offer?: string });
    expect(there.filter(({ type }) => type !== 'offerPrice')).toMatchObject(smallEntries());
    expect(there.flatMap(({ type, offer }) => (type === 'offerPrice' ? [offer] : []))).toEqual([
      'red-metre',
      'ring-pack',
    ]);
    await writeFile(file, 'no archive');
    await expect(api.sendFile('/v1/club/archive', file, 'application/gzip')).rejects.toThrow(
      /is not an archive/,
    );
  });
});
