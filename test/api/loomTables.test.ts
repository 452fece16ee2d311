import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ListImport } from '../../api/tables/summary.ts';
import type { Client, Got } from '../support/client.ts';
import { exampleJob } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { storeJob } from '../support/storeJob.ts';

let house: TestHouse;
let editor: Client;

const van = exampleJob('van');
const vanLoom = van.looms[0]?.code ?? '';
const LISTS = ['wires', 'points', 'branches', 'coverings', 'cables', 'fittings', 'extras'] as const;

beforeAll(async () => {
  house = await openHouse();
  const club = await house.club();
  editor = await club.as('editor');
  await storeJob(club, van);
});
afterAll(() => house.close());

const sent = (client: Client, path: string, body: string, headers: Record<string, string> = {}) =>
  client.send('POST', path, { body, headers: { 'content-type': 'text/csv', ...headers } });
const toldOf = (got: Got) => got.json<ListImport>();

const cellsOf = (text: string) => parse(text);
const textOf = (rows: string[][]) => stringify(rows);
const put = (head: string[], row: string[], column: string, value: string) =>
  row.map((cell, at) => (head[at] === column ? value : cell));

describe('a list of a loom', () => {
  const at = (list: string, query = '') => `/v1/looms/${vanLoom}/tables/${list}${query}`;
  const loom = async (client = editor) =>
    (await client.get(`/v1/looms/${vanLoom}`)).json<{ revision: number }>();

  test.each(LISTS)('%s comes back as it went out and makes no revision', async (list) => {
    const before = await loom();
    const csv = await editor.get(at(list));
    expect(csv.headers.get('content-disposition')).toBe(`attachment; filename="${vanLoom}-${list}.csv"`);
    const got = toldOf(await sent(editor, at(list), csv.text));
    const rows = (before as unknown as Record<string, unknown[]>)[list === 'extras' ? 'parts' : list] ?? [];
    expect(got).toMatchObject({
      new: 0,
      changed: 0,
      unchanged: rows.length,
      faults: 0,
      written: true,
      removed: 0,
      revision: before.revision,
    });
    expect(await loom()).toEqual(before);
  });

  test('becomes the next revision with its changes; the one before can still be read, and put back', async () => {
    const before = await loom();
    const tag = (await editor.get(`/v1/looms/${vanLoom}`)).headers.get('etag') ?? '';
    const { text } = await editor.get(at('wires'));
    const [head = [], first = [], second = [], ...others] = cellsOf(text);
    const changed = textOf([head, put(head, first, 'note', 'Measured again'), ...others]);
    const preview = toldOf(await sent(editor, at('wires', '?preview=true'), changed));
    expect(await loom()).toEqual(before);
    const got = await sent(editor, at('wires'), changed, { 'if-match': tag });
    const done = toldOf(got);
    expect(done).toMatchObject({ new: 0, changed: 1, faults: 0, removed: 1, written: true });
    expect(done.removedCodes).toEqual([second[0]]);
    expect(done.revision).toBe(before.revision + 1);
    expect(preview).toEqual({ ...done, written: false, revision: before.revision });
    expect(got.headers.get('etag')).toBe((await editor.get(`/v1/looms/${vanLoom}`)).headers.get('etag'));
    expect((await editor.get(at('wires', `?revision=${before.revision}`))).text).toBe(text);
    expect((await sent(editor, at('wires'), text, { 'if-match': tag })).status).toBe(412);
    await sent(editor, at('wires'), text);
    expect({ ...(await loom()), revision: before.revision }).toEqual(before);
  });

  test('with a fault writes nothing, and tells each at its row and column', async () => {
    const before = await loom();
    const { text } = await editor.get(at('wires'));
    const [head = [], first = [], ...others] = cellsOf(text);
    const faults = async (column: string, value: string) =>
      toldOf(await sent(editor, at('wires'), textOf([head, put(head, first, column, value), ...others])))
        .rows.flatMap(({ faults = [] }) => faults)
        .map(({ row, column, found }) => [row, column, found]);
    expect(await faults('from terminal', 'no-such')).toEqual([[2, 'from terminal', '"no-such"']]);
    expect(await faults('from', 'nowhere')).toEqual([[2, 'from', '"nowhere"']]);
    expect(await faults('amps', 'many')).toEqual([[2, 'amps', '"many"']]);
    const points = (await editor.get(at('points'))).text.split('\r\n');
    const without = toldOf(await sent(editor, at('points'), [points[0], ...points.slice(2)].join('\r\n')));
    expect([without.written, without.file.length > 0]).toEqual([false, true]);
    expect(await loom()).toEqual(before);
  });

  test('of a loom that is not there, or that is none of a loom’s, is not found', async () => {
    for (const path of ['/v1/looms/none/tables/wires', `/v1/looms/${vanLoom}/tables/offers`]) {
      expect((await editor.get(path)).status).toBe(404);
      expect((await sent(editor, path, 'wire')).status).toBe(404);
    }
    const template = await editor.get(at('wires', '?format=template'));
    expect(template.text.split('\r\n')[0]).toContain('wire,cable type');
  });

  test('that states another loom in a row is refused there', async () => {
    const got = toldOf(
      await sent(editor, at('extras'), `loom,part,quantity\nrear,${van.parts[0]?.code ?? ''},1\n`),
    );
    expect(got.rows[0]?.faults).toMatchObject([{ row: 2, column: 'loom', code: 'other-loom' }]);
  });
});
