import { spawn } from 'node:child_process';
import { once } from 'node:events';

/** What loading, reading the job and a solver that looks at its clock seldom may take beyond the limit. */
const GRACE_SECONDS = 15;

/**
 * What a program printed in a process of its own, or in words why it did not: `npm run bench` itself holds nothing of it.
 * Where the process does not end by itself it is killed, by its own id.
 */
export async function printedApart(
  program: string,
  args: readonly string[],
  limitSeconds: number,
  graceSeconds = GRACE_SECONDS,
): Promise<{ printed: string } | { failed: string }> {
  const child = spawn(process.execPath, ['--import', 'tsx', program, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const texts = { out: '', error: '' };
  child.stdout.setEncoding('utf8').on('data', (text: string) => (texts.out += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (texts.error += text));
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
  if (killed) return { failed: `killed ${graceSeconds} s after its limit` };
  if (code === 0) return { printed: texts.out };
  return { failed: /^\w*Error: .*$/m.exec(texts.error)?.[0] ?? `ended with ${code ?? 'a signal'}` };
}
