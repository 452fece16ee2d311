import { fileURLToPath } from 'node:url';
import { printedApart } from './apart.ts';
import type { Instance } from './instances.ts';
import type { DirectRow, EngineRow, Row } from './row.ts';

const PROGRAM = fileURLToPath(new URL('one.ts', import.meta.url));

interface Killing {
  program?: string;
  graceSeconds?: number;
}

/** One instance in a process of its own. Where it has to be killed, or fails, its time limit counts as its seconds. */
export async function solvedApart(
  instance: Instance,
  by: Row['by'],
  limitSeconds: number,
  { program = PROGRAM, graceSeconds }: Killing = {},
): Promise<Row> {
  const { family, variant, seed } = instance;
  const args = [family, variant, `${seed}`, by, `${limitSeconds}`];
  const end = await printedApart(program, args, limitSeconds, graceSeconds);
  if ('printed' in end) return JSON.parse(end.printed) as EngineRow | DirectRow;
  const seconds = { cpuSeconds: limitSeconds, wallSeconds: limitSeconds, limitSeconds };
  return { ...instance, by, ...seconds, proven: false, failed: end.failed };
}
