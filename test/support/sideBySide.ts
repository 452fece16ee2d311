import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';

export interface Command {
  name: string;
  program: string;
  args: string[];
}

/** `N passed, N failed, N skipped`, as the tests' run ends. */
const COUNT = /^(\d+) passed, (\d+) failed, (\d+) skipped$/;

/**
 * Runs the check beside the tests and prints line by line what both say: the tests' lines as they come, the check's in one
 * piece once it has ended. The tests' count stands last, and a check that fails counts as one failure in it. Returns the exit code of the tests
 * or, where these pass, of the check. A signal that this process is sent ends both.
 */
export async function sideBySide(
  check: Command,
  tests: Command,
  print: (line: string) => void,
): Promise<number> {
  let count: RegExpExecArray | null = null;
  const start = performance.now();
  const said: string[] = [];
  const checking = running(check, (line) => said.push(line)).then((code) => {
    const seconds = ((performance.now() - start) / 1000).toFixed(1);
    for (const line of said) print(line);
    print(`${check.name}: ${code === 0 ? 'passed' : `failed (${code})`} after ${seconds} s`);
    return code;
  });
  const testing = running(tests, (line) => {
    const found = COUNT.exec(line);
    if (found) count = found;
    else print(line);
  });
  const [checked, tested] = await Promise.all([checking, testing]);
  if (checked !== 0) print(`${check.name} failed: see above. It counts as one failure.`);
  const [, passed = '0', failed = '0', skipped = '0'] = count ?? [];
  if (count)
    print(`${passed} passed, ${Number(failed) + (checked === 0 ? 0 : 1)} failed, ${skipped} skipped`);
  return tested === 0 ? checked : tested;
}

/** Runs a program to its end, with both of its outputs line by line; its exit code, 1 where a signal ended it or it did not start. */
async function running({ program, args }: Command, tell: (line: string) => void): Promise<number> {
  const child = spawn(program, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  const passOn = (signal: NodeJS.Signals) => void child.kill(signal);
  const signals = ['SIGINT', 'SIGTERM'] as const;
  for (const signal of signals) process.on(signal, passOn);
  const read = [child.stdout, child.stderr].map((stream) => linesOf(stream, tell));
  const code = await codeOf(child, tell);
  await Promise.all(read);
  for (const signal of signals) process.off(signal, passOn);
  return code;
}

async function linesOf(stream: Readable, tell: (line: string) => void): Promise<void> {
  for await (const line of createInterface({ input: stream })) tell(line);
}

async function codeOf(child: ChildProcess, tell: (line: string) => void): Promise<number> {
  try {
    const [code] = (await once(child, 'exit')) as [number | null];
    return code ?? 1;
  } catch (error) {
    tell(String(error));
    return 1;
  }
}
