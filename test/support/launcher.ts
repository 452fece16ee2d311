import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { chownSync, mkdirSync, mkdtempSync, openSync, closeSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

const READY_MS = 60_000;
const STOP_MS = 5_000;

interface Ids {
  uid: number;
  gid: number;
}

/** PostgreSQL refuses to run as root, so root hands its servers to another user. */
function idsOfServers(): Ids | null {
  if (process.getuid?.() !== 0) return null;
  const id = (flag: string, user: string) => {
    const answer = spawnSync('id', [flag, user], { encoding: 'utf8' });
    return answer.status === 0 ? Number(answer.stdout) : null;
  };
  for (const user of ['postgres', 'nobody']) {
    const uid = id('-u', user);
    const gid = id('-g', user);
    if (uid !== null && gid !== null) return { uid, gid };
  }
  throw new Error('PostgreSQL does not run as root, and there is no user postgres or nobody to run it as.');
}

/** Starts programs in a throw-away folder, remembers them, and ends them all by their own process ids. */
export interface Launcher {
  /** A folder inside the throw-away one that belongs to the user the servers run as. */
  folder(name: string): string;
  /** Runs a program to its end; throws with what it printed where it failed. */
  run(command: string, args: string[]): Promise<string>;
  /** Starts a server on a free port and waits until `answers` does not throw. */
  serve(server: {
    name: string;
    command: string;
    args: (port: number) => string[];
    input?: (port: number) => string;
    answers: (port: number) => Promise<void>;
  }): Promise<{ port: number; pid: number }>;
  freePort(): Promise<number>;
  stopAll(): Promise<void>;
}

export function createLauncher(): Launcher {
  const ids = idsOfServers();
  const root = mkdtempSync(join(tmpdir(), 'loomwright-test-'));
  if (ids) chownSync(root, ids.uid, ids.gid);
  const running = new Set<ChildProcess>();
  let stopped = false;

  function launch(command: string, args: string[], output: 'pipe' | number, input = ''): ChildProcess {
    if (stopped) throw new Error(`${command} is not started any more: the servers are being stopped.`);
    const child = spawn(command, args, {
      ...ids,
      cwd: root,
      // Its own process group: Ctrl-C reaches us alone, and we end it in order.
      detached: true,
      env: { PATH: process.env['PATH'], LC_ALL: 'C.UTF-8' },
      stdio: ['pipe', output, output],
    });
    running.add(child);
    child.once('exit', () => running.delete(child));
    child.once('error', () => running.delete(child));
    // A program that ends without reading its input is judged by its exit code.
    child.stdin?.on('error', () => {});
    child.stdin?.end(input);
    return child;
  }

  function folder(name: string): string {
    const path = join(root, name);
    mkdirSync(path, { mode: 0o700, recursive: true });
    if (ids) chownSync(path, ids.uid, ids.gid);
    return path;
  }

  async function run(command: string, args: string[]): Promise<string> {
    const child = launch(command, args, 'pipe');
    const printed: string[] = [];
    for (const stream of [child.stdout, child.stderr])
      stream?.setEncoding('utf8').on('data', (text: string) => printed.push(text));
    const [code] = (await once(child, 'close')) as [number | null];
    if (code !== 0) throw new Error(`${command} failed (${code ?? 'killed'}):\n${printed.join('')}`);
    return printed.join('');
  }

  const serve: Launcher['serve'] = async ({ name, command, args, input, answers }) => {
    const log = join(root, `${name}.log`);
    // Somebody else may take the port between our finding it and the server's opening it.
    for (let attempt = 1; ; attempt++) {
      const port = await freePort();
      const output = openSync(log, 'w');
      const child = launch(command, args(port), output, input?.(port));
      closeSync(output);
      const spawned = once(child, 'spawn');
      await spawned;
      const fault = await untilReady(child, () => answers(port));
      if (fault === null) return { port, pid: child.pid ?? 0 };
      await end(child);
      if (attempt === 3) throw new Error(`${name} does not start: ${fault}\n${readFileSync(log, 'utf8')}`);
    }
  };

  async function stopAll(): Promise<void> {
    stopped = true;
    await Promise.all([...running].map(end));
    rmSync(root, { recursive: true, force: true, maxRetries: 5 });
  }

  return { folder, run, serve, freePort, stopAll };
}

const ended = (child: ChildProcess) => child.exitCode !== null || child.signalCode !== null;

/** Null when the server answers, else what went wrong. */
async function untilReady(child: ChildProcess, answers: () => Promise<void>): Promise<string | null> {
  const deadline = Date.now() + READY_MS;
  let last: unknown;
  while (!ended(child) && Date.now() < deadline) {
    try {
      await answers();
      return null;
    } catch (error) {
      last = error;
    }
    await pause(50);
  }
  return ended(child) ? 'it ended by itself' : `it does not answer: ${String(last)}`;
}

/** SIGQUIT is PostgreSQL's immediate shutdown, and ends Redis at once: nothing of theirs is kept. */
async function end(child: ChildProcess): Promise<void> {
  if (ended(child)) return;
  const exit = once(child, 'exit');
  child.kill('SIGQUIT');
  const hardKill = setTimeout(() => child.kill('SIGKILL'), STOP_MS);
  await exit;
  clearTimeout(hardKill);
}

async function freePort(): Promise<number> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('no loopback port is free');
  return address.port;
}
