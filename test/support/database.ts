import { randomBytes } from 'node:crypto';
import postgres from 'postgres';
import { inject } from 'vitest';

export interface FreshDatabase {
  url: string;
  serverUrl: string;
  /** Ends whoever is still connected. */
  drop: () => Promise<void>;
}

/**
 * An empty database of the caller's own on the run's PostgreSQL. Call it in a hook or a test, in service mode.
 * `owner: 'plain'` logs in as a role that owns the database and nothing else: no superuser, no CREATEROLE, no BYPASSRLS;
 * 'bypassing' as one with BYPASSRLS besides. `serverUrl` is the same database by the server's own login.
 */
export async function freshDatabase(
  options: { owner?: 'server' | 'plain' | 'bypassing' } = {},
): Promise<FreshDatabase> {
  const server = inject('databaseUrl');
  if (server === null) throw new Error('freshDatabase is for service mode; this run has no PostgreSQL.');
  const unique = randomBytes(6).toString('hex');
  const name = `loomwright_test_${unique}`;
  const plain = (options.owner ?? 'server') !== 'server' ? `loomwright_plain_${unique}` : null;
  const password = randomBytes(16).toString('hex');

  await onServer(server, async (sql) => {
    if (plain !== null) {
      const rights = options.owner === 'bypassing' ? 'bypassrls' : '';
      await sql.unsafe(`create role ${plain} login ${rights} password '${password}'`);
      // A server's user that is no superuser may give a database only to a role that it is a member of.
      await sql.unsafe(`grant ${plain} to current_user`);
    }
    await sql.unsafe(`create database ${name} template template0 ${plain === null ? '' : `owner ${plain}`}`);
  });

  const url = new URL(server);
  url.pathname = `/${name}`;
  const serverUrl = url.href;
  if (plain !== null) {
    url.username = plain;
    url.password = password;
  }
  const drop = () =>
    onServer(server, async (sql) => {
      await sql.unsafe(`drop database if exists ${name} with (force)`);
      if (plain !== null) await sql.unsafe(`drop role if exists ${plain}`);
    });
  return { url: url.href, serverUrl, drop };
}

async function onServer(url: string, work: (sql: postgres.Sql) => Promise<void>): Promise<void> {
  const sql = postgres(url, { max: 1, onnotice: () => {} });
  try {
    await work(sql);
  } finally {
    await sql.end({ timeout: 5 });
  }
}
