import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const pages = ['README.md', ...readdirSync(`${root}docs`).map((name) => `docs/${name}`)].filter((name) =>
  name.endsWith('.md'),
);

/** Every command that stands in a block of a page, without its remark. */
const commands = pages.flatMap((page) =>
  [...readFileSync(`${root}${page}`, 'utf8').matchAll(/^```[a-z]*\n([\s\S]*?)^```$/gm)].flatMap(
    ([, block = '']) =>
      block
        .split('\n')
        .map((line) => line.replace(/\s+#.*$/, '').trim())
        .filter((line) => /^(npm|docker|curl|LOOMWRIGHT\w+=|KEY=)/.test(line))
        .map((command) => ({ page, command })),
  ),
);

/** Commands that start servers, or go to one: where a test runs them. */
const ELSEWHERE: [starts: string, test: string][] = [
  ['npm ci && npm run demo', 'test/docs/commands.test.ts'],
  ['npm ci && npm test', 'test/support/plan.test.ts'],
  ['npm start', 'test/faults/start.test.ts'],
  ['npm run worker', 'test/faults/workers.test.ts'],
  ['npm run load -- examples/starter', 'test/api/spreadsheetsPage.test.ts'],
  ['npm run load', 'test/command/commands.test.ts'],
  ['npm run key', 'test/command/commands.test.ts'],
  ['npm run -s archive', 'test/command/commands.test.ts'],
  ['npm run archive', 'test/command/commands.test.ts'],
  ['KEY=', 'test/api/apiPage.test.ts'],
  ['curl -s', 'test/api/apiPage.test.ts'],
  ['curl -H', 'test/api/spreadsheetsPage.test.ts'],
];

const out = mkdtempSync(join(tmpdir(), 'pages-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));

const priced = [
  ...new Set(
    commands.flatMap(({ page, command }) =>
      // The page on spreadsheets runs its own.
      command.startsWith('npm run price') && page !== 'docs/spreadsheets.md' ? [command] : [],
    ),
  ),
];

describe('a command of the README or of a page', () => {
  test('is there to be run', () => {
    expect(priced.length).toBeGreaterThan(8);
  });

  test.each(priced)('%s does what it is for', (command) => {
    // What it writes goes to a folder of the test.
    const argv = command
      .split(' ')
      .slice(4)
      .map((word, at, words) =>
        /^--(out|template|as-csv)$/.test(words[at - 1] ?? '') ? join(out, word) : word,
      );
    const ran = spawnSync('node', ['--import', 'tsx', 'worker/price.ts', ...argv], {
      cwd: root,
      encoding: 'utf8',
    });
    expect([ran.status, ran.status === 0 ? '' : ran.stderr]).toEqual([0, '']);
    expect(ran.stdout + ran.stderr).not.toBe('');
  });

  test('npm run demo loads the van into a server, and prints its quote', () => {
    const ran = spawnSync('node', ['--import', 'tsx', 'api/demo.ts'], { cwd: root, encoding: 'utf8' });
    expect([ran.status, ran.stderr]).toEqual([0, '']);
    const [, first = ''] =
      /```\n(.* delivered, from [^`]*)\n```/.exec(readFileSync(`${root}README.md`, 'utf8')) ?? [];
    expect(first).not.toBe('');
    expect(ran.stdout).toContain(first);
  }, 120_000);

  test.each(commands.filter(({ command }) => !command.startsWith('npm run price')))(
    '$command of $page is run by a test that is named here',
    ({ command }) => {
      const known = ELSEWHERE.find(([starts]) => command.startsWith(starts));
      expect([command, known !== undefined && existsSync(`${root}${known[1]}`)]).toEqual([command, true]);
    },
  );
});
