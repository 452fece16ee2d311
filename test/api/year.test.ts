import { asc, eq } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import * as schema from '../../db/schema/index.ts';
import type { Client } from '../support/client.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { replayed, type Row } from '../support/year/replay.ts';
import { liveAYear, type Counts, type Person } from '../support/year/year.ts';

let house: TestHouse;
let club: TestClub;
let admin: Client;
let people: Person[];
let counts: Counts;
let day = 0;

beforeAll(async () => {
  house = await openHouse({ now: () => new Date(Date.UTC(2026, 0, 1 + day, 12)) });
  club = await house.club();
  admin = await club.as('admin');
  const world = { admin, anonymous: house.anonymous, moveTo: (to: number) => void (day = to) };
  ({ people, counts } = await liveAYear(world, 18));
}, 300_000);
afterAll(() => house.close());

/** Everything of a list, page by page. */
async function all<T>(client: Client, path: string): Promise<T[]> {
  const items: T[] = [];
  type Page = { items: T[]; next: string | null };
  let cursor: string | null = '';
  while (cursor !== null) {
    const asked: string = `${path}limit=100${cursor === '' ? '' : `&cursor=${cursor}`}`;
    const page: Page = (await client.get(asked)).json<Page>();
    items.push(...page.items);
    cursor = page.next;
  }
  return items;
}

/** What the club has in its tables, by the names that the record has for things. */
const stored = () =>
  club.run(async ({ tx, club: id }) => {
    const state = new Map<string, unknown>();
    for (const [word, table] of [
      ['part', schema.parts],
      ['supplier', schema.suppliers],
      ['offer', schema.offers],
      ['stock-item', schema.stock],
    ] as const)
      for (const row of await tx.select().from(table as typeof schema.parts))
        if (!('mergedInto' in row) || row.mergedInto === null) state.set(`${word}:${row.code}`, row.body);
    for (const { body } of await tx.select().from(schema.fits))
      state.set(`fit:${body.from}/${body.relation}/${body.to}`, body);
    const heads = await tx.select().from(schema.looms).where(eq(schema.looms.clubId, id));
    const latest = new Map(heads.map(({ code, latestRevision }) => [code, latestRevision]));
    for (const { loomCode, revision, body } of await tx.select().from(schema.loomRevisions))
      if (latest.get(loomCode) === revision) state.set(`loom:${loomCode}`, body);
    return state;
  });

const inOrder = (state: ReadonlyMap<string, unknown>) =>
  Object.fromEntries([...state].sort(([a], [b]) => (a < b ? -1 : 1)));

describe('a year of a club of twelve', () => {
  test('has all that a club does, much of it refused as it should be', () => {
    expect(people).toHaveLength(11);
    for (const what of ['part', 'new price', 'report', 'merge', 'seen by', 'quote', 'leave', 'search'])
      expect(counts.get(what), what).toBeGreaterThan(2);
    expect(counts.get('merge, refused')).toBeGreaterThan(0);
    expect(counts.get('confirm by a member, refused')).toBeGreaterThan(2);
  });

  test('is replayed by its record to the state that it ended in', async () => {
    const rows = await club.run(({ tx }) =>
      tx.select().from(schema.audit).orderBy(asc(schema.audit.at), asc(schema.audit.id)),
    );
    expect(inOrder(replayed(rows))).toEqual(inOrder(await stored()));
  });

  test('is read by an editor as far as the editor sees it: the record leads to the same lists', async () => {
    const editor = people.find(({ role }) => role === 'editor');
    if (!editor) throw new Error('no editor is left');
    const rows = (await all<Row>(editor.client, '/v1/record?')).reverse();
    const state = replayed(rows);
    for (const word of ['part', 'offer', 'supplier'] as const) {
      const items = await all<{ code: string }>(editor.client, `/v1/${word}s?`);
      const told = [...state].filter(([thing]) => thing.startsWith(`${word}:`)).map(([, body]) => body);
      expect(inOrder(new Map(told.map((body) => [(body as { code: string }).code, body])))).toEqual(
        inOrder(new Map(items.map((item) => [item.code, item]))),
      );
    }
  });

  test('names everybody who did something, also those who have left', async () => {
    const editor = people.find(({ role }) => role === 'editor');
    const rows = await all<{ who: string; action: string }>(editor?.client ?? admin, '/v1/record?');
    const here = new Set(people.map(({ name }) => name));
    const left = rows.filter(({ action }) => action === 'member.join').map(({ who }) => who);
    expect(left.filter((name) => !here.has(name)).length).toBeGreaterThan(2);
    expect(new Set(rows.map(({ who }) => who)).size).toBeGreaterThan(11);
  });
});
