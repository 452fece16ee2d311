import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
/** Answers each message with the seconds of processor that the process has had. */
const TELLS_SECONDS = 'data:text/javascript,process.on("message",()=>process.send(process.cpuUsage()))';
const READY_MS = 30_000;

/** A server of the bench’s own, in a process of its own. */
export interface Measured {
  port: number;
  /** Of its process, since it began. */
  cpuSeconds(): Promise<number>;
  stop(): Promise<void>;
}

/** Runs a program from source and waits until it answers at its port, which `args` and `env` are told. */
export async function measuredServer(
  program: string,
  args: (port: number) => string[],
  env: (port: number) => Record<string, string> = () => ({}),
): Promise<Measured> {
  const port = await freePort();
  // For a profile of it: LOOMWRIGHT_BENCH_NODE=--cpu-prof.
  const flags = (process.env['LOOMWRIGHT_BENCH_NODE'] ?? '').split(' ').filter(Boolean);
  const child = spawn(
    process.execPath,
    [...flags, '--import', 'tsx', '--import', TELLS_SECONDS, program, ...args(port)],
    {
      cwd: ROOT,
      env: { PATH: process.env['PATH'], HOME: process.env['HOME'], ...env(port) },
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    },
  );
  const ended = once(child, 'close');
  const stop = async () => {
    const killer = setTimeout(() => child.kill('SIGKILL'), 10_000);
    child.kill('SIGINT');
    await ended;
    clearTimeout(killer);
  };
  const until = Date.now() + READY_MS;
  while (!(await answers(port))) {
    if (child.exitCode !== null || Date.now() > until) {
      await stop();
      throw new Error(`${program} does not answer`);
    }
    await pause(50);
  }
  const cpuSeconds = async () => {
    const told = once(child, 'message') as Promise<[NodeJS.CpuUsage]>;
    child.send('seconds?');
    const [{ user, system }] = await told;
    return (user + system) / 1e6;
  };
  return { port, cpuSeconds, stop };
}

async function answers(port: number): Promise<boolean> {
  return fetch(`http://127.0.0.1:${port}/healthz`).then(
    () => true,
    () => false,
  );
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('no loopback port is free');
  return address.port;
}
