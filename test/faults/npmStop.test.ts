import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { openHouse, type TestHouse } from '../support/house.ts';

// What an operator does: npm starts it, and npm is told to end.
const ROOT = fileURLToPath(new URL('../../', import.meta.url));
let house: TestHouse;

beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

describe.each([
  ['npm start', ['start'], /answers at http/],
  ['npm run worker', ['run', 'worker'], /"msg":"working"/],
] as const)('%s', (_what, args, ready) => {
  test('ends with its program, in order, when npm is told to end', async () => {
    const npm = spawn('npm', [...args], {
      cwd: ROOT,
      env: { PATH: process.env['PATH'], HOME: process.env['HOME'], ...house.environment, PORT: '0' },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let printed = '';
    for (const stream of [npm.stdout, npm.stderr])
      stream.setEncoding('utf8').on('data', (text: string) => (printed += text));
    const closed = once(npm, 'close');
    try {
      await vi.waitFor(() => expect(printed).toMatch(ready), { timeout: 60_000, interval: 50 });
      npm.kill('SIGTERM');
      // Its output ends when the last that holds it has ended, and not npm alone.
      await closed;
      expect(printed).toContain('"msg":"stopped"');
    } finally {
      npm.kill('SIGKILL');
      const pid = Number(/"pid":(\d+)/.exec(printed)?.[1]);
      if (pid > 0 && isAlive(pid)) process.kill(pid, 'SIGKILL');
    }
  }, 90_000);
});
