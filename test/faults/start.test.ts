import { readFileSync } from 'node:fs';
import { sql } from 'drizzle-orm';
import { afterEach, describe, expect, test } from 'vitest';
import { asSystem } from '../../db/system.ts';
import { asClub } from '../../db/club.ts';
import { testFounder } from '../support/founder.ts';
import { clubNamed } from '../../db/clubs.ts';
import { connectService } from '../../db/connect.ts';
import { createKey } from '../../db/keys.ts';
import { clubs, keys } from '../../db/schema/index.ts';
import { freshDatabase } from '../support/database.ts';
import { processes } from '../support/processes.ts';

const journal = JSON.parse(
  readFileSync(new URL('../../db/migrations/meta/_journal.json', import.meta.url), 'utf8'),
) as { entries: unknown[] };

describe('a new database', () => {
  test.each(['server', 'plain'] as const)(
    'is migrated once by many that start at once (login: %s)',
    async (owner) => {
      const fresh = await freshDatabase({ owner });
      const opened = await Promise.all(
        Array.from({ length: 4 }, () => connectService({ url: fresh.url, maxConnections: 1 })),
      );
      const first = opened[0];
      const rows = await first?.db
        .select({ n: sql`count(*)`.mapWith(Number) })
        .from(sql`loomwright_migrations`)
        .catch(() => null);
      // The table of migrations is the owner's; a service that works as another role may not read it.
      if (owner === 'plain') expect(rows).toEqual([{ n: journal.entries.length }]);
      await Promise.all(opened.map((database) => database.close()));
      await fresh.drop();
    },
  );

  test('whose login owns it and is no superuser holds its policies all the same', async () => {
    const fresh = await freshDatabase({ owner: 'plain' });
    const database = await connectService({ url: fresh.url, maxConnections: 1 });
    const { club } = await asSystem(database, (tx) =>
      clubNamed(tx, testFounder, { name: 'Plain', currency: 'GBP' }),
    );
    const ctx = { ...testFounder, club: club.id };
    await asClub(database, ctx, (ctx) => createKey({ ctx, input: { role: 'viewer', label: 'x' } }));
    expect(await database.db.select().from(clubs)).toEqual([]);
    expect(await database.db.select().from(keys)).toEqual([]);
    expect(await asClub(database, ctx, (ctx) => ctx.tx.select().from(keys))).toHaveLength(1);
    await database.close();
    await fresh.drop();
  });

  test('whose login bypasses the policies and cannot give that up is refused with a sentence', async () => {
    const fresh = await freshDatabase({ owner: 'bypassing' });
    await expect(connectService({ url: fresh.url, maxConnections: 1 })).rejects.toThrow(
      /Use a login without BYPASSRLS/,
    );
    await fresh.drop();
  });

  test('made by a plain owner holds a superuser who comes later to its policies', async () => {
    const fresh = await freshDatabase({ owner: 'plain' });
    await (await connectService({ url: fresh.url, maxConnections: 1 })).close();
    const database = await connectService({ url: fresh.serverUrl, maxConnections: 1 });
    expect(await database.db.select().from(clubs)).toEqual([]);
    await database.close();
    await fresh.drop();
  });
});

describe('a process that cannot start', () => {
  const started = processes();
  afterEach(() => started.endAll());

  test('says that PostgreSQL does not answer, and ends with 1', async () => {
    const api = started.node(['api/main.ts'], {
      DATABASE_URL: 'postgres://x@127.0.0.1:1/x',
      REDIS_URL: 'redis://127.0.0.1:1',
    });
    expect(await api.ended).toBe(1);
    expect(api.printed()).toMatch(/PostgreSQL does not answer/);
  });

  test('says which variable is at fault, and ends with 1', async () => {
    const worker = started.node(['worker/main.ts'], { DATABASE_URL: 'mysql://x' });
    expect(await worker.ended).toBe(1);
    expect(worker.printed()).toMatch(/DATABASE_URL: must start with postgres/);
    expect(worker.printed()).toMatch(/REDIS_URL: is needed/);
  });
});
