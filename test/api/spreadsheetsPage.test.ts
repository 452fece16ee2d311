import { readFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, expect, onTestFinished, test } from 'vitest';
import type { TableImport } from '../../api/tables/summary.ts';
import { starterCatalogue } from '../../worker/price/folder/starter.ts';
import { serverOf } from '../support/callerInto.ts';
import { curlCalls } from '../support/curl.ts';
import { exampleJob, loadJobFile } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { processes } from '../support/processes.ts';

const page = readFileSync(new URL('../../docs/spreadsheets.md', import.meta.url), 'utf8');
const [, section = ''] = /^## With the server\n([\s\S]*?)^## /m.exec(page) ?? [];
const loads = [...section.matchAll(/^npm run load -- (.*)$/gm)].map(([, words = '']) => words.split(' '));

const started = processes();
let house: TestHouse;
beforeAll(async () => {
  house = await openHouse();
});
afterEach(() => started.endAll());
afterAll(() => house.close());

test('The curl calls of the page take a table out, preview what was changed in it, and write that', async () => {
  const admin = await (await house.club()).as('admin');
  await loadJobFile(admin, exampleJob('trailer'));
  const { secret } = (await admin.post('/v1/keys', { role: 'editor', label: 'of the page' })).json();
  const calls = curlCalls(section).map((read) => read({ KEY: String(secret) }));
  const files = new Map<string, string>();
  const send = async (call: (typeof calls)[number] | undefined) => {
    if (!call) throw new Error('the page has fewer calls');
    const { method, path, headers, bodyFile, output } = call;
    const body = bodyFile === undefined ? undefined : files.get(bodyFile);
    const got = await house.anonymous.send(method, path, {
      headers,
      ...(body === undefined ? {} : { body }),
    });
    expect([path, got.status]).toEqual([path, 200]);
    if (output !== undefined) files.set(output, got.text);
    return got;
  };

  expect(calls).toHaveLength(3);
  const [takesOut, previews, writes] = calls;
  await send(takesOut);
  const [name = '', text = ''] = [...files][0] ?? [];
  const used = text.replaceAll(',new,', ',used,');
  const lines = (of: string) => of.split('\r\n');
  const changed = lines(used).filter((line, at) => line !== lines(text)[at]).length;
  expect(changed).toBeGreaterThan(0);
  files.set(name, used);
  const unchanged = lines(text).filter((line) => line !== '').length - 1 - changed;
  const told = { new: 0, changed, unchanged, faults: 0 };

  expect((await send(previews)).json<TableImport>()).toMatchObject({ ...told, written: false });
  await send(takesOut);
  expect(files.get(name)).toBe(text);
  files.set(name, used);
  expect((await send(writes)).json<TableImport>()).toMatchObject({ ...told, written: true });
  await send(takesOut);
  expect(files.get(name)).toBe(used);
});

test('The load commands of the page preview the starter catalogue, then load all of it', async () => {
  expect(loads).toHaveLength(2);
  const admin = await (await house.club()).as('admin');
  const { secret } = (await admin.post('/v1/keys', { role: 'editor', label: 'of the page' })).json();
  const server = await serverOf(house);
  onTestFinished(() => server.stop());
  const counts: number[][] = [];
  for (const words of loads) {
    const command = started.node(['api/load.ts', ...words], {
      LOOMWRIGHT_KEY: String(secret),
      PORT: new URL(server.url).port,
    });
    expect([words, await command.ended, command.printed()]).toEqual([words, 0, expect.any(String)]);
    const rows = async (list: string) =>
      (await admin.get(`/v1/${list}?format=csv`)).text.trimEnd().split('\r\n').length - 1;
    counts.push([await rows('parts'), await rows('fits')]);
  }
  const { parts, fits } = await starterCatalogue('examples/starter');
  expect(counts).toEqual([
    [0, 0],
    [parts.length, fits.length],
  ]);
}, 60_000);
