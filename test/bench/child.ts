import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import type { Instance } from './instances.ts';
import type { DirectRow, EngineRow, Row } from './row.ts';

const PROGRAM = fileURLToPath(new URL('one.ts', import.meta.url));
/** What loading, reading the job and a solver that looks at its clock seldom may take beyond the limit. */
const GRACE_SECONDS = 15;

interface Killing {
  program?: string;
  graceSeconds?: number;
}

/**
 * One instance in a process of its own: `npm run bench` itself holds nothing of it. Where the process does not end by
 * itself it is killed, by its own id, and its time limit counts as its seconds.
 */
export async function solvedApart(
  instance: Instance,
  by: Row['by'],
  limitSeconds: number,
  { program = PROGRAM, graceSeconds = GRACE_SECONDS }: Killing = {},
): Promise<Row> {
  const { family, variant, seed } = instance;
  const args = [family, variant, `${seed}`, by, `${limitSeconds}`];
  const child = spawn(process.execPath, ['--import', 'tsx', program, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const printed = { out: '', error: '' };
  child.stdout.setEncoding('utf8').on('data', (text: string) => (printed.out += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (printed.error += text));
  let killed = false;
  const killer = setTimeout(
    () => {
      killed = true;
      child.kill('SIGKILL');
    },
    (limitSeconds + graceSeconds) * 1000,
  );
  const [code] = (await once(child, 'close')) as [number | null];
  clearTimeout(killer);
  const none = (failed: string): Row => ({
    ...instance,
    by,
    seconds: limitSeconds,
    limitSeconds,
    proven: false,
    failed,
  });
  if (killed) return none(`killed ${graceSeconds} s after its limit`);
  if (code !== 0)
    return none(/^\w*Error: .*$/m.exec(printed.error)?.[0] ?? `ended with ${code ?? 'a signal'}`);
  return JSON.parse(printed.out) as EngineRow | DirectRow;
}
