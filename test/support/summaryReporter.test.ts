import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';

const vitest = fileURLToPath(new URL('../../node_modules/vitest/vitest.mjs', import.meta.url));
const reporter = fileURLToPath(new URL('summaryReporter.ts', import.meta.url));
let root = '';

/** Runs files, given by project and name, as a run of their own; stdout and stderr as a terminal shows them. */
function run(files: Record<string, string>): { lines: string[]; exitCode: number | null } {
  rmSync(root, { recursive: true, force: true });
  const projects = new Set<string>();
  for (const [path, text] of Object.entries(files)) {
    const [project = ''] = path.split('/');
    projects.add(project);
    mkdirSync(join(root, project), { recursive: true });
    writeFileSync(join(root, path), text);
  }
  const config = {
    test: {
      reporters: ['default', reporter],
      projects: [...projects].map((name) => ({
        test: { name, globals: true, include: [`${name}/*.test.js`] },
      })),
    },
  };
  writeFileSync(join(root, 'vitest.config.mjs'), `export default ${JSON.stringify(config)};\n`);
  const { stdout, status } = spawnSync(
    'sh',
    ['-c', 'exec "$0" "$1" run --root "$2" 2>&1', process.execPath, vitest, root],
    {
      encoding: 'utf8',
      env: { PATH: process.env['PATH'] },
    },
  );
  return { lines: stdout.trimEnd().split('\n'), exitCode: status };
}

beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'loomwright-run-'));
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

test('the last line counts the tests of all projects', () => {
  const { lines, exitCode } = run({
    'one/a.test.js': "test('a', () => {}); test('b', () => {});",
    'two/a.test.js': "test('a', () => {}); test.skip('b', () => {}); test.todo('c');",
  });
  expect(lines.at(-1)).toBe('3 passed, 0 failed, 2 skipped');
  const timed = lines.slice(-8).flatMap((line) => /(\S+\.test\.js) .* \d+\.\d /.exec(line)?.[1] ?? []);
  expect(timed.sort()).toEqual(['one/a.test.js', 'two/a.test.js']);
  expect(exitCode).toBe(0);
});

test('a reason for skipping is told once, with the number of tests', () => {
  const skip = (name: string, why: string) => `test('${name}', ({ skip }) => skip('${why}'));`;
  const { lines } = run({
    'one/a.test.js': skip('a', 'no plug') + skip('b', 'no socket') + skip('c', 'no plug'),
    'two/a.test.js': `${skip('a', 'no plug')} test('b', () => {});`,
  });
  expect(lines.slice(-3)).toEqual([
    '3 skipped: no plug',
    '1 skipped: no socket',
    '1 passed, 0 failed, 4 skipped',
  ]);
});

test('a failed test, a file that does not load, a hook that throws and an error nobody caught each count', () => {
  const { lines, exitCode } = run({
    'one/failed.test.js': "test('a', () => { throw new Error('no'); }); test('b', () => {});",
    'one/file.test.js': "throw new Error('does not load');",
    'two/hook.test.js':
      "describe('s', () => { beforeAll(() => { throw new Error('no'); }); test('a', () => {}); });",
    'two/uncaught.test.js':
      "test('a', async () => { Promise.reject(new Error('no')); await new Promise(setImmediate); });",
  });
  expect(lines.at(-1)).toBe('2 passed, 4 failed, 1 skipped');
  expect(exitCode).toBe(1);
});

test('a run without any test does not look like success', () => {
  const { lines, exitCode } = run({ 'one/a.txt': '' });
  expect(lines.at(-1)).toBe('0 passed, 1 failed, 0 skipped');
  expect(exitCode).toBe(1);
});
