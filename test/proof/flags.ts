import { parseArgs } from 'node:util';
import { MIDDLING_JOBS } from '../sourcing/middling/instance.ts';

export const PARTS = ['brute', 'published', 'shops', 'middling', 'certificates'] as const;
export type ProofPart = (typeof PARTS)[number];

export interface Flags {
  parts: ReadonlySet<ProofPart>;
  /** Of the middling jobs. */
  from: number;
  to: number;
  /** For each job and each way to solve it, of those that are compared. */
  seconds: number;
}

/** Parts that are named are run, all where none is. Throws Error, in words, where a flag is unknown or says nothing. */
export function flagsOf(args: readonly string[]): Flags {
  const { values } = parseArgs({
    args: [...args],
    options: {
      brute: { type: 'boolean' },
      published: { type: 'boolean' },
      shops: { type: 'boolean' },
      middling: { type: 'boolean' },
      certificates: { type: 'boolean' },
      from: { type: 'string', default: '1' },
      to: { type: 'string', default: `${MIDDLING_JOBS}` },
      seconds: { type: 'string', default: '120' },
    },
  });
  const named = PARTS.filter((part) => values[part]);
  const whole = (flag: 'from' | 'to' | 'seconds') => {
    const value = Number(values[flag]);
    if (!Number.isInteger(value) || value < 1)
      throw new Error(`--${flag}: ${values[flag]} is no whole number`);
    return value;
  };
  const [from, to] = [whole('from'), whole('to')];
  if (from > to || to > MIDDLING_JOBS)
    throw new Error(`--from ${from} --to ${to}: the middling jobs are 1 to ${MIDDLING_JOBS}`);
  return { parts: new Set(named.length > 0 ? named : PARTS), from, to, seconds: whole('seconds') };
}
