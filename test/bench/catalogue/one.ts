/**
 * A club of 50,000 parts and 200,000 offers with five prices each: how long lists, a quote's job and a price list take, and
 * how much memory. On PGlite in a folder of its own; with DATABASE_URL, in a new club of that PostgreSQL.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import { newKey } from '../../../api/newKey.ts';
import { serveApp } from '../../../api/serve.ts';
import type { PriceListImport } from '../../../api/tables/priceList.ts';
import { asClub, type Ctx } from '../../../db/club.ts';
import { connectEmbedded, connectService } from '../../../db/connect.ts';
import { jobWith } from '../../../db/jobs.ts';
import { hashOfSecret, keyOfHash } from '../../../db/keys.ts';
import { parts } from '../../../db/parts.ts';
import { refreshStatistics } from '../../../db/statistics.ts';
import { suppliers } from '../../../db/suppliers.ts';
import { Part } from '../../../worker/engine/model/part.ts';
import { QuoteRequest } from '../../../worker/engine/model/job.ts';
import { Supplier } from '../../../worker/engine/model/supplier.ts';
import { inProcessWake } from '../../../worker/wake/inProcess.ts';
import { testFounder } from '../../support/founder.ts';
import { fillOffers, manyOffer } from '../../support/manyOffers.ts';
import { peakRssMb } from '../memory.ts';
import { stopwatch } from '../stopwatch.ts';

const scale = Number(process.env['LOOMWRIGHT_BENCH_SCALE'] ?? 1);
const PARTS = 50_000 * scale;
const OFFERS = 200_000 * scale;
const LIST_ROWS = 20_000 * scale;
const SUPPLIERS = 10;
const PRICES = 5;
const ROUNDS = 40;
const BATCH = 1_000;

const codes = (name: string, count: number) => Array.from({ length: count }, (_, at) => `${name}-${at}`);
const partCodes = codes('ring', PARTS);
const supplierCodes = codes('shop', SUPPLIERS);

async function main(): Promise<void> {
  const url = process.env['DATABASE_URL'];
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-bench-'));
  const database = url === undefined ? await connectEmbedded({ folder }) : await connectService({ url });
  const wish = {
    club: `Club ${uuidv7()}`,
    role: 'editor',
    label: 'bench',
    make: true,
    currency: 'GBP',
  } as const;
  const { secret } = await newKey(database, testFounder, wish);
  const key = await keyOfHash(database, hashOfSecret(secret));
  if (!key) throw new Error('the key that was made opens nothing');
  const run = <T>(work: (ctx: Ctx) => Promise<T>) =>
    asClub(database, { ...testFounder, club: key.clubId }, work);
  const server = await serveApp(
    { database, wake: inProcessWake().wake, stopWork: async () => undefined },
    { host: '127.0.0.1', port: 0, bodyBytes: 64 * 1024 ** 2, archiveBytes: 1024 ** 2, queuePerClub: 1_000 },
    pino({ level: 'silent' }),
  );
  const rows: Record<string, string | number>[] = [];
  const timed = async (what: string, work: () => Promise<string>) => {
    const taken = stopwatch();
    const told = await work();
    const { wallSeconds, cpuSeconds } = taken();
    rows.push({
      what,
      seconds: wallSeconds.toFixed(2),
      cpu: cpuSeconds.toFixed(2),
      peakMb: peakRssMb(),
      told,
    });
  };
  const authorization = `Bearer ${secret}`;
  const get = (path: string) => async () => {
    const times: number[] = [];
    let bytes = 0;
    for (let round = 0; round < ROUNDS; round++) {
      const from = performance.now();
      const answer = await fetch(`${server.url}/v1/${path}`, { headers: { authorization } });
      bytes = (await answer.arrayBuffer()).byteLength;
      if (answer.status !== 200) throw new Error(`${path} answers ${answer.status}`);
      times.push(performance.now() - from);
    }
    const sorted = times.sort((a, b) => a - b);
    return `p95 ${(sorted[Math.floor(ROUNDS * 0.95) - 1] ?? 0).toFixed(1)} ms, ${bytes} bytes`;
  };
  const send = (file: string, query: string) => async () => {
    const answer = await fetch(`${server.url}/v1/suppliers/shop-0/price-list?seenOn=2026-11-20&${query}`, {
      method: 'POST',
      headers: { authorization, 'content-type': 'text/csv' },
      body: file,
    });
    const told = (await answer.json()) as PriceListImport;
    return `rises ${told.rises}, falls ${told.falls}, new ${told.new}, gone ${told.gone}, faults ${told.faults}`;
  };
  try {
    await timed('parts put in', async () => {
      for (let from = 0; from < PARTS; from += BATCH)
        await run((ctx) => parts.bulk.write({ ctx, input: partBatch(from) }));
      await run(async (ctx) => {
        for (const code of supplierCodes)
          await suppliers.create({
            ctx,
            input: Supplier.parse({ code, name: `Shop ${code}`, currency: 'GBP' }),
          });
      });
      return `${PARTS}`;
    });
    await timed('offers put in', async () => {
      await fillOffers(run, { parts: partCodes, suppliers: supplierCodes, count: OFFERS, prices: PRICES });
      return `${OFFERS} with ${PRICES} prices each`;
    });
    await timed('statistics', async () => `of ${(await refreshStatistics(database)).length} tables`);
    await timed('offers, a page', get('offers?limit=50'));
    await timed('stale offers, a page', get('stale-offers?days=10&limit=50'));
    await timed('stale, bought by quotes', get('stale-offers?days=10&limit=50&usedBy=quotes'));
    await timed('price course of a part', get(`parts/${partCodes[7] ?? ''}/prices`));
    await timed('its picture', get(`parts/${partCodes[7] ?? ''}/prices?format=svg`));
    await timed('price list, preview', send(priceList(), 'preview=true'));
    await timed('price list, written', send(priceList(), 'rows=0'));
    await timed('job of a quote', async () => {
      const job = await run((ctx) =>
        jobWith({
          ctx,
          input: {
            asOf: '2026-11-28',
            looms: [],
            owner: null,
            request: QuoteRequest.parse({ looms: [{ loom: 'x', quantity: 1 }] }),
          },
        }),
      );
      return `${(job as { offers: unknown[] }).offers.length} offers`;
    });
    console.log(`${database.mode}, ${PARTS} parts, ${OFFERS} offers`);
    console.table(rows);
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

const partBatch = (from: number) =>
  partCodes.slice(from, from + BATCH).map((code) => ({
    body: Part.parse({ code, kind: 'terminal', description: `Ring ${code}`, terminalType: 'ring' }),
    before: undefined,
  }));

/** The offers of one supplier, some dearer, some cheaper, as a table. */
function priceList(): string {
  const lines = Array.from({ length: LIST_ROWS }, (_, row) => {
    const { code, ...offer } = manyOffer(row * SUPPLIERS, partCodes, supplierCodes);
    if (offer.form !== 'pack') throw new Error('the offers of the bench are packs');
    const amount = (Number(offer.packPrice.amount) + ([0, 0.5, -0.05][row % 3] ?? 0)).toFixed(2);
    return `${code},pack,${offer.part},${amount},10`;
  });
  return ['code,sold by,part,price,pieces in a pack', ...lines].join('\n');
}

await main();
