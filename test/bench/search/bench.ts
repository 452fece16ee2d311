import { v7 as uuidv7 } from 'uuid';
import { asClub, type ClubCtx } from '../../../db/club.ts';
import type { Change } from '../../../db/bulk.ts';
import { clubNamed } from '../../../db/clubs.ts';
import { connectMemory, connectService, type Database } from '../../../db/connect.ts';
import { offers } from '../../../db/offers.ts';
import { parts } from '../../../db/parts.ts';
import { findThings, type Search } from '../../../db/search/find.ts';
import { asked, readingsOf } from '../../../db/search/units.ts';
import { refreshStatistics } from '../../../db/statistics.ts';
import { suppliers } from '../../../db/suppliers.ts';
import { asSystem } from '../../../db/system.ts';
import { Supplier } from '../../../worker/engine/model/supplier.ts';
import { findBinaries } from '../../support/binaries.ts';
import { testFounder } from '../../support/founder.ts';
import { manyOffers, manyParts } from '../../support/manyParts.ts';
import { keepServers } from '../../support/servers.ts';

const PARTS = 50_000;
const OFFERS = 200_000;
const ROUNDS = 60;
const TARGET_MS = 60;
const AT_ONCE = 1_000;

const q = (text: string) => ({ readings: readingsOf(text, new Map()) });
const QUERIES: Record<string, Omit<Search, 'limit' | 'thing'> & { thing?: 'offer' }> = {
  'two words': q('lamp horn'),
  'three words and a size': q('wire dash 14/0.30'),
  'a part of a word': q('attery'),
  'one slip': q('dynmao'),
  'a common word': q('wire'),
  'the start of a number': q('20 41'),
  'a colour': { readings: [[asked('green/white', ['green/white'], 'colour')]] },
  'a word and a kind': { ...q('heater'), kind: 'terminal' },
  'offers by two words': { ...q('lamp horn'), thing: 'offer' },
  'offers by a number': { ...q('S 1234'), thing: 'offer' },
};

/** How long searches take in a club with many parts and offers, in both modes. Flags of the mode alone: --only search. */
export async function benchSearch(): Promise<void> {
  const kept = await keepServers(findBinaries());
  try {
    if (kept.databaseUrl === null)
      console.log('Searching in service mode is left out: PostgreSQL is not installed.');
    else await measured('service', await connectService({ url: kept.databaseUrl }));
    await measured('embedded', await connectMemory());
  } finally {
    await kept.stop();
  }
}

async function measured(mode: string, database: Database): Promise<void> {
  try {
    const ctx = await filledClub(database);
    const rows = [];
    for (const [query, search] of Object.entries(QUERIES))
      rows.push(await timed(database, ctx, query, search));
    console.log(`Searching ${PARTS} parts and ${OFFERS} offers, ${mode}, milliseconds`);
    console.table(rows);
  } finally {
    await database.close();
  }
}

async function timed(
  database: Database,
  ctx: ClubCtx,
  query: string,
  search: Omit<Search, 'limit' | 'thing'> & { thing?: 'offer' },
) {
  const taken: number[] = [];
  let found = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const from = performance.now();
    const input = { thing: 'part' as const, limit: 50, ...search };
    ({ found } = await asClub(database, ctx, (inClub) => findThings({ ctx: inClub, input })));
    taken.push(performance.now() - from);
  }
  taken.sort((a, b) => a - b);
  const at = (share: number) => Math.round((taken[Math.floor(share * (taken.length - 1))] ?? 0) * 10) / 10;
  return { query, found, p50: at(0.5), p95: at(0.95), target: at(0.95) < TARGET_MS ? 'reached' : 'missed' };
}

async function filledClub(database: Database): Promise<ClubCtx> {
  const { club } = await asSystem(database, (tx) =>
    clubNamed(tx, testFounder, { name: `search ${uuidv7()}`, currency: 'GBP' }),
  );
  const ctx: ClubCtx = { ...testFounder, club: club.id };
  await asClub(database, ctx, (inClub) =>
    suppliers.create({
      ctx: inClub,
      input: Supplier.parse({ code: 'lane', name: 'Lane', country: 'GB', currency: 'GBP' }),
    }),
  );
  const all = manyParts(PARTS);
  await inBatches(all, (batch) =>
    asClub(database, ctx, (inClub) => parts.bulk.write({ ctx: inClub, input: batch })),
  );
  await inBatches(manyOffers(OFFERS, all, 'lane'), (batch) =>
    asClub(database, ctx, (inClub) => offers.bulk.write({ ctx: inClub, input: batch })),
  );
  await refreshStatistics(database);
  return ctx;
}

async function inBatches<B>(all: readonly B[], write: (batch: Change<B>[]) => Promise<void>): Promise<void> {
  for (let from = 0; from < all.length; from += AT_ONCE)
    await write(all.slice(from, from + AT_ONCE).map((body) => ({ body, before: undefined })));
}
