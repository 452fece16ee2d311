import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { inject, vi } from 'vitest';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** A process that a test started, with all that it has printed. */
export interface Started {
  pid: number;
  /** Both streams, as they came. */
  printed(): string;
  /** Waits until what was printed matches; fails with what was printed, or when the process ends first. */
  until(pattern: RegExp, timeout?: number): Promise<RegExpExecArray>;
  kill(signal: NodeJS.Signals): void;
  /** Exit code, or the signal that ended it. */
  ended: Promise<number | NodeJS.Signals>;
}

const SERVERS = ['api/main.ts', 'worker/main.ts'];

function programOf([first = '', ...rest]: string[]): string[] {
  const built = inject('builtPrograms');
  if (built !== null && SERVERS.includes(first)) return [join(built, first.replace(/ts$/, 'js')), ...rest];
  return first.endsWith('.ts') ? ['--import', 'tsx', first, ...rest] : [first, ...rest];
}

/** Starts processes and ends them all, by their own ids. */
export interface Processes {
  /** `node` with these arguments; a first argument ending in .ts is run from source, a server's where there is a build from that. */
  node(args: string[], env?: Record<string, string>): Started;
  endAll(): Promise<void>;
}

export function processes(): Processes {
  const running = new Set<{ child: ChildProcess; ended: Promise<unknown> }>();

  function node(args: string[], env: Record<string, string> = {}): Started {
    const child = spawn(process.execPath, programOf(args), {
      cwd: ROOT,
      env: { PATH: process.env['PATH'], HOME: process.env['HOME'], ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let printed = '';
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (text: string) => (printed += text));
    const ended = once(child, 'close').then(([code, signal]) => (code ?? signal) as number | NodeJS.Signals);
    const entry = { child, ended };
    running.add(entry);
    void ended.then(() => running.delete(entry));
    return {
      pid: child.pid ?? 0,
      printed: () => printed,
      until: (pattern, timeout = 30_000) =>
        vi.waitFor(
          () => {
            const found = pattern.exec(printed);
            if (found) return found;
            throw new Error(`not printed yet: ${pattern.source}\n${printed.slice(-4000)}`);
          },
          { timeout, interval: 25 },
        ),
      kill: (signal) => void child.kill(signal),
      ended,
    };
  }

  async function endAll(): Promise<void> {
    for (const { child } of running) child.kill('SIGKILL');
    await Promise.all([...running].map(({ ended }) => ended));
  }

  return { node, endAll };
}
