import { Redis } from 'ioredis';
import postgres from 'postgres';
import { expect, onTestFinished } from 'vitest';
import { freshDatabase } from '../support/database.ts';
import { testOnlyIn } from '../support/mode.ts';
import { freshPrefix, freshRedis } from '../support/redis.ts';

const testOnServers = testOnlyIn('service', 'embedded mode has no servers');

async function database(owner: 'server' | 'plain') {
  const { url, drop } = await freshDatabase({ owner });
  const sql = postgres(url, { max: 1 });
  onTestFinished(async () => {
    await sql.end();
    await drop();
  });
  return sql;
}

testOnServers('each test file gets an empty database of its own', async () => {
  const [one, other] = await Promise.all([database('server'), database('server')]);
  await one`create table looms (code text)`;
  expect(await other`select tablename from pg_tables where schemaname = 'public'`).toHaveLength(0);
});

testOnServers('a plain owner may make tables, and has none of the rights that pass by a policy', async () => {
  const sql = await database('plain');
  await sql`create table looms (code text)`;
  const [rights] = await sql`
    select rolsuper, rolbypassrls, rolcreaterole, rolcreatedb from pg_roles where rolname = current_user`;
  expect(rights).toEqual({ rolsuper: false, rolbypassrls: false, rolcreaterole: false, rolcreatedb: false });
  const [owner] = await sql`select tableowner = current_user as own from pg_tables where tablename = 'looms'`;
  expect(owner).toEqual({ own: true });
});

testOnServers('a dropped database is gone, whoever is still connected, and its owner with it', async () => {
  const watcher = await database('server');
  const { url, drop } = await freshDatabase({ owner: 'plain' });
  const { pathname, username } = new URL(url);
  const left = postgres(url, { max: 1, onnotice: () => {} });
  await left`select 1`;
  await drop();
  await left.end({ timeout: 0 });
  expect(await watcher`select 1 from pg_database where datname = ${pathname.slice(1)}`).toHaveLength(0);
  expect(await watcher`select 1 from pg_roles where rolname = ${username}`).toHaveLength(0);
});

testOnServers('the run’s Redis is shared, and each caller has a prefix of its own in it', async () => {
  const { url, prefix } = freshRedis();
  const redis = new Redis(url);
  onTestFinished(() => redis.disconnect());
  await redis.set(`${prefix}:mark`, 'mine');
  expect(await redis.exists(`${freshPrefix()}:mark`)).toBe(0);
  expect(await redis.get(`${prefix}:mark`)).toBe('mine');
});
