import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sideBySide, type Command } from './sideBySide.ts';

let folder = '';
let pipe = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'loomwright-beside-'));
  pipe = join(folder, 'pipe');
  execFileSync('mkfifo', [pipe]);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A program that says some lines and ends with a code; `first` or `last` of two whose order is told. */
function saying(lines: string[], code: number, turn?: 'first' | 'last'): Command {
  // Reading from the pipe waits for whoever writes to it, and writing for whoever reads.
  const waiting = {
    first: `fs.writeFileSync(${JSON.stringify(pipe)}, 'over');`,
    last: `fs.readFileSync(${JSON.stringify(pipe)});`,
  };
  const script = `
    ${turn === 'last' ? waiting.last : ''}
    for (const line of ${JSON.stringify(lines)}) console.log(line);
    ${turn === 'first' ? waiting.first : ''}
    process.exitCode = ${code};`;
  return { name: 'the check', program: process.execPath, args: ['-e', script] };
}

async function run(check: Command, tests: Command) {
  const lines: string[] = [];
  const code = await sideBySide(check, tests, (line) => lines.push(line));
  return { lines, code };
}

const COUNT = '5 passed, 0 failed, 1 skipped';

test.each([
  ['first', 'last'],
  ['last', 'first'],
] as const)('where the check ends %s, both say all they have to, and the count stands last', async (a, b) => {
  const check = saying(['types', 'lint'], 0, a);
  const { lines, code } = await run(check, saying(['a test', 'another', COUNT], 0, b));
  expect(code).toBe(0);
  expect(lines).toEqual(expect.arrayContaining(['a test', 'another', 'types', 'lint']));
  expect(lines.indexOf('lint')).toBe(lines.indexOf('types') + 1);
  expect(lines.at(-1)).toBe(COUNT);
});

test('a check that fails makes the run fail and counts as a failure, and what it says is printed', async () => {
  const { lines, code } = await run(saying(['no such type'], 2), saying([COUNT], 0));
  expect(code).toBe(2);
  expect(lines).toContain('no such type');
  expect(lines.at(-1)).toBe('5 passed, 1 failed, 1 skipped');
});

test('tests that fail make the run fail, with their own count', async () => {
  const { lines, code } = await run(saying([], 0), saying(['4 passed, 1 failed, 1 skipped'], 1));
  expect([code, lines.at(-1)]).toEqual([1, '4 passed, 1 failed, 1 skipped']);
});

test('a program that does not start makes the run fail, and it is said which', async () => {
  const gone: Command = { name: 'the check', program: '/nowhere/at/all', args: [] };
  const { lines, code } = await run(gone, saying([COUNT], 0));
  expect(code).toBe(1);
  expect(lines.join('\n')).toContain('/nowhere/at/all');
  expect(lines.at(-1)).toBe('5 passed, 1 failed, 1 skipped');
});
