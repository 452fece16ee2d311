import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, describe, expect, test } from 'vitest';
import { processes } from '../support/processes.ts';

const started = processes();
afterEach(() => started.endAll());

const COMMANDS = [
  ['api/main.ts', 'npm start'],
  ['worker/main.ts', 'npm run worker'],
  ['worker/price.ts', 'npm run price -- FILE'],
  ['api/load.ts', 'npm run load -- FILE'],
  ['api/key.ts', 'npm run key -- --club NAME'],
  ['api/archive.ts', 'npm run archive -- export FILE'],
  ['api/demo.ts', 'npm run demo'],
] as const;

async function ran(...args: string[]) {
  // A folder that is not there, so that a command which does more than it should is seen to.
  const command = started.node(args, { LOOMWRIGHT_DATA: '/nowhere/to/be/made', PORT: '1' });
  return { code: await command.ended, printed: command.printed() };
}

describe.each(COMMANDS)('%s', (file, called) => {
  test('prints how it is called with --help, and does nothing else', async () => {
    const { code, printed } = await ran(file, '--help');
    expect(printed).toContain(`\n  ${called}`);
    expect(printed).toMatch(/--help,? +(which )?prints this/);
    expect(code).toBe(0);
  });

  test('refuses a flag that it does not know, says how it is called, and ends with 2', async () => {
    const { code, printed } = await ran(file, '--fast');
    expect(printed).toContain(`There is no flag --fast.\n\n`);
    expect(printed).toContain(`\n  ${called}`);
    expect(code).toBe(2);
  });
});

describe('npm run load', () => {
  test.each([
    ['no file', [], 'Name a job file, a table or a folder of tables.'],
    ['a file that is not there', ['gone.json'], 'There is no file gone.json.'],
    ['a folder without tables', ['examples'], 'There is no table in examples that can be loaded by itself'],
    ['both ways at once', ['x', '--update', '--preview'], 'Use only one of them'],
    ['no address', ['examples/trailer/job.json', '--url', 'localhost:1'], 'is not an address of a server'],
    ['no key', ['examples/trailer/job.json'], 'There is no key in '],
  ])('with %s says so and ends with 2', async (_what, args, said) => {
    const { code, printed } = await ran('api/load.ts', ...args);
    expect([code, printed]).toEqual([2, expect.stringContaining(said)]);
  });

  test('where no server answers says so and ends with 1', async () => {
    const env = { LOOMWRIGHT_KEY: 'lw_x' };
    const args = ['api/load.ts', 'examples/trailer/job.json', '--url', 'http://127.0.0.1:1/'];
    const command = started.node(args, env);
    expect([await command.ended, command.printed()]).toEqual([
      1,
      'No server answers at http://127.0.0.1:1. Start one with npm start, or give its address with --url.\n',
    ]);
  });

  test.each([
    ['has no such path', 404, '<html>'],
    ['answers with a page', 200, '<html>'],
  ])('where another server answers, which %s, says so and ends with 1', async (_what, status, page) => {
    const other = createServer((_request, answer) => answer.writeHead(status).end(page)).listen(
      0,
      '127.0.0.1',
    );
    await once(other, 'listening');
    const url = `http://127.0.0.1:${(other.address() as AddressInfo).port}`;
    const args = ['api/load.ts', 'examples/trailer/job.json', '--url', url];
    const command = started.node(args, { LOOMWRIGHT_KEY: 'lw_x' });
    const code = await command.ended;
    other.close();
    expect([code, command.printed()]).toEqual([
      1,
      `The server at ${url} is not a Loomwright server. Start one with npm start, or give its address with --url.\n`,
    ]);
  });
});

describe('npm run key', () => {
  test.each([
    ['no club', ['--role', 'editor'], 'Say which club: --club NAME.'],
    ['no role', ['--club', 'Ours'], 'Say which role: --role viewer|member|editor|admin.'],
    ['another role', ['--club', 'Ours', '--role', 'boss'], 'There is no role boss. Give one of: viewer,'],
    [
      'a member of no name',
      ['--club', 'Ours', '--role', 'editor', '--member', ' '],
      '--member: a name has 1 to',
    ],
    ['a name without a flag', ['Ours'], 'Ours has no flag before it'],
    [
      'no data folder',
      ['--club', 'Ours', '--role', 'editor'],
      'There is no data folder /nowhere/to/be/made.',
    ],
  ])('with %s says so and ends with 2', async (_what, args, said) => {
    const { code, printed } = await ran('api/key.ts', ...args);
    expect([code, printed]).toEqual([2, expect.stringContaining(said)]);
  });
});

describe('npm run archive', () => {
  test.each([
    ['no way', ['club.gz'], 'Say which way: export or import.'],
    ['a preview of an export', ['export', 'club.gz', '--preview'], '--preview is for import'],
    ['an overwriting import', ['import', 'club.gz', '--overwrite'], '--overwrite is for export'],
    [
      'an export to a file that exists',
      ['export', 'package.json'],
      'package.json exists already, and it was not written over: it can be your only backup. Give another name, or add --overwrite',
    ],
    ['no server and no data folder', ['export', 'club.gz'], 'there is no data folder /nowhere/to/be/made.'],
    ['no key for a server', ['export', 'club.gz', '--url', 'http://127.0.0.1:1'], 'There is no key in '],
  ])('with %s says so and ends with 2', async (_what, args, said) => {
    const { code, printed } = await ran('api/archive.ts', ...args);
    expect([code, printed]).toEqual([2, expect.stringContaining(said)]);
  });
});
