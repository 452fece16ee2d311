import { serve } from '@hono/node-server';
import { Hono } from 'hono';
import { createHash } from 'node:crypto';
import postgres from 'postgres';
import { APP_ROLE } from '../../../db/migrate.ts';

// What our read of a part is compared with: the same look-up of the key, transaction and policies, and nothing else.
// node --import tsx test/bench/read/bare.ts DATABASE_URL PORT [kept]; kept: the key is looked up once.

const [url = '', port = '', keptKeys] = process.argv.slice(2);
const sql = postgres(url, { max: 10, connection: { role: APP_ROLE } });
const app = new Hono();

interface Key {
  club_id: string;
  role: string;
}
const kept = new Map<string, Key>();

async function keyOf(secret: string): Promise<Key | undefined> {
  const hash = createHash('sha256').update(secret).digest('hex');
  const before = kept.get(hash);
  if (before) return before;
  const [key] = await sql.begin(async (tx) => {
    await tx`select set_config('loomwright.system', 'on', true)`;
    return tx<Key[]>`select club_id, role from keys where hash = ${hash} and revoked_at is null`;
  });
  if (key && keptKeys === 'kept') kept.set(hash, key);
  return key;
}

app.get('/v1/parts/:code', async (c) => {
  const key = await keyOf((c.req.header('authorization') ?? '').replace(/^Bearer /, ''));
  if (!key) return c.json({ title: 'A key is needed' }, 401);
  const [part] = await sql.begin(async (tx) => {
    await tx`select set_config('loomwright.club', ${key.club_id}, true)`;
    return tx<{ body: Record<string, unknown>; version: number }[]>`
      select * from parts where club_id = ${key.club_id} and code = ${c.req.param('code')}`;
  });
  if (!part) return c.json({ title: 'Not found' }, 404);
  return c.json(part.body, 200, { etag: `"${part.version}"` });
});

serve({ fetch: app.fetch, hostname: '127.0.0.1', port: Number(port) });
