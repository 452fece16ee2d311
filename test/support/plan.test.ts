import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { debianFolders, findBinaries } from './binaries.ts';
import { planServers, skipReason } from './plan.ts';

const nothing = { postgresFolder: null, redisServer: null };
const installed = { postgresFolder: '/opt/postgresql/bin', redisServer: '/opt/redis/redis-server' };
const given = { DATABASE_URL: 'postgres://db.example/club', REDIS_URL: 'redis://redis.example' };

describe('what service mode runs on', () => {
  test('installed programs are started where no server is given', () => {
    expect(planServers({}, installed)).toEqual({
      databaseUrl: null,
      redisUrl: null,
      start: installed,
      missing: null,
    });
  });

  test('servers that are given are used, and nothing is started', () => {
    expect(planServers(given, installed)).toEqual({
      databaseUrl: given.DATABASE_URL,
      redisUrl: given.REDIS_URL,
      start: nothing,
      missing: null,
    });
  });

  test('one may be given and the other started', () => {
    const plan = planServers({ REDIS_URL: given.REDIS_URL }, installed);
    expect(plan.redisUrl).toBe(given.REDIS_URL);
    expect(plan.start).toEqual({ ...installed, redisServer: null });
  });
});

describe('where programs are missing', () => {
  test('the sentence says what to install, by the names of the packages', () => {
    const reason = skipReason(planServers({}, nothing), {});
    expect(reason).toContain('PostgreSQL (initdb, postgres) and Redis (redis-server)');
    expect(reason).toContain('apt-get install postgresql redis-server');
    expect(reason).toContain('DATABASE_URL and REDIS_URL');
  });

  test('the sentence names only what is missing', () => {
    const reason = skipReason(planServers({}, { ...installed, redisServer: null }), {});
    expect(reason).toContain('apt-get install redis-server;');
    expect(reason).not.toContain('PostgreSQL');
  });

  test('in CI the run fails with the same sentence', () => {
    const plan = planServers({}, nothing);
    expect(() => skipReason(plan, { CI: 'true' })).toThrow(/apt-get install postgresql redis-server.*fails/);
  });

  test('in CI nothing fails where the servers are there', () => {
    expect(skipReason(planServers(given, nothing), { CI: 'true' })).toBeNull();
  });
});

describe('looking for programs', () => {
  let root = '';
  const put = (...path: string[]) => {
    const file = join(root, ...path);
    mkdirSync(join(file, '..'), { recursive: true });
    writeFileSync(file, '#!/bin/sh\n');
    chmodSync(file, 0o755);
  };
  beforeAll(() => {
    root = mkdtempSync(join(tmpdir(), 'loomwright-programs-'));
    for (const version of ['9', '15', '17']) {
      put(version, 'bin', 'initdb');
      if (version !== '17') put(version, 'bin', 'postgres');
    }
    put('tools', 'redis-server');
    put('half', 'initdb');
  });
  afterAll(() => rmSync(root, { recursive: true }));

  test('the folder that holds both of PostgreSQL’s programs comes first', () => {
    const folders = ['17', '15', '9'].map((version) => join(root, version, 'bin'));
    expect(findBinaries(join(root, 'half'), folders).postgresFolder).toBe(join(root, '15', 'bin'));
  });

  test('PATH goes before Debian’s folders, and Redis is found along it', () => {
    const path = `${join(root, 'tools')}:${join(root, '9', 'bin')}`;
    expect(findBinaries(path, [join(root, '15', 'bin')])).toEqual({
      postgresFolder: join(root, '9', 'bin'),
      redisServer: join(root, 'tools', 'redis-server'),
    });
  });

  test('Debian’s newest version comes first, by number and not by letter', () => {
    put('17', 'bin', 'postgres');
    expect(findBinaries('', debianFolders(root)).postgresFolder).toBe(join(root, '17', 'bin'));
    rmSync(join(root, '17', 'bin', 'postgres'));
    expect(findBinaries('', debianFolders(root)).postgresFolder).toBe(join(root, '15', 'bin'));
  });

  test('nothing is found on a bare machine', () => {
    expect(findBinaries('', debianFolders(join(root, 'nowhere')))).toEqual(nothing);
  });
});
