/**
 * How long a table of offers takes over HTTP, and how much memory: node --import tsx test/bench/importOffers.ts [OFFERS]
 * On PGlite in a folder of its own; with DATABASE_URL, in a new club of that PostgreSQL.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import { newKey } from '../../api/newKey.ts';
import { serveApp } from '../../api/serve.ts';
import type { TableImport } from '../../api/tables/summary.ts';
import { connectEmbedded, connectService } from '../../db/connect.ts';
import { inProcessWake } from '../../worker/wake/inProcess.ts';
import { testFounder } from '../support/founder.ts';
import { peakRssMb } from './memory.ts';

const OFFERS = Number(process.argv[2] ?? 50_000);
const PARTS = 5_000;
const SUPPLIERS = 40;
const LINES = 1_000;

/** A table line by line, as a big file comes. */
function* table(head: string, rows: number, row: (at: number) => string): Generator<Uint8Array> {
  yield Buffer.from(`${head}\n`);
  for (let from = 0; from < rows; from += LINES) {
    const count = Math.min(LINES, rows - from);
    yield Buffer.from(Array.from({ length: count }, (_, at) => `${row(from + at)}\n`).join(''));
  }
}

const parts = () =>
  table('code,kind,description,terminal type', PARTS, (at) => `ring-${at},terminal,Ring number ${at},ring`);
const suppliers = () =>
  table(
    'code,name,currency,postage',
    SUPPLIERS,
    (at) => `shop-${at},Shop ${at},GBP,"3.95, free from ${40 + at}"`,
  );
const offers = (price: number) =>
  table(
    'code,supplier,sold by,part,price,pieces in a pack,breaks,seen on,note',
    OFFERS,
    (at) =>
      `offer-${at},shop-${at % SUPPLIERS},pack,ring-${(at * 7) % PARTS},${price + (at % 50)}.20,10,"10: ${price}.10, 50: ${price}.05",2026-11-02,Seen in the list of autumn`,
  );

async function main(): Promise<void> {
  const url = process.env['DATABASE_URL'];
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-bench-'));
  const database = url === undefined ? await connectEmbedded({ folder }) : await connectService({ url });
  const wish = { club: uuidv7(), role: 'editor', label: 'bench', make: true, currency: 'GBP' } as const;
  const { secret } = await newKey(database, testFounder, wish);
  const server = await serveApp(
    { database, wake: inProcessWake().wake, stopWork: async () => undefined },
    { host: '127.0.0.1', port: 0, bodyBytes: 64 * 1024 ** 2, archiveBytes: 1024 ** 2, queuePerClub: 1_000 },
    pino({ level: 'silent' }),
  );
  const timed = async (what: string, work: () => Promise<string>) => {
    const [from, cpu] = [performance.now(), process.cpuUsage()];
    const told = await work();
    const { user, system } = process.cpuUsage(cpu);
    process.stdout.write(
      `${what.padEnd(28)} ${((performance.now() - from) / 1000).toFixed(1)} s, CPU ${((user + system) / 1e6).toFixed(1)} s, peak ${peakRssMb()} MB: ${told}\n`,
    );
  };
  const authorization = `Bearer ${secret}`;
  const send = (path: string, lines: Iterable<Uint8Array>) => async () => {
    const answer = await fetch(`${server.url}/v1/${path}`, {
      method: 'POST',
      headers: { authorization, 'content-type': 'text/csv' },
      body: ReadableStream.from<Uint8Array>(lines),
      duplex: 'half',
    });
    const told = (await answer.json()) as TableImport;
    return `new ${told.new}, changed ${told.changed}, unchanged ${told.unchanged}, faults ${told.faults}`;
  };
  const read = async () => {
    const answer = await fetch(`${server.url}/v1/offers?format=csv`, { headers: { authorization } });
    let bytes = 0;
    for await (const chunk of answer.body as unknown as AsyncIterable<Uint8Array>) bytes += chunk.byteLength;
    return `${bytes} bytes`;
  };
  try {
    process.stdout.write(`${database.mode}, ${OFFERS} offers\n`);
    await timed('started', () => Promise.resolve(''));
    await timed('parts', send('parts/table', parts()));
    await timed('suppliers', send('suppliers/table', suppliers()));
    await timed('offers, preview', send('offers/table?preview=true', offers(2)));
    await timed('offers, new', send('offers/table', offers(2)));
    await timed('offers, unchanged', send('offers/table', offers(2)));
    await timed('offers, changed', send('offers/table', offers(3)));
    await timed('offers, read as CSV', read);
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

await main();
