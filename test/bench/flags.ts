import { parseArgs } from 'node:util';
import { FAMILIES, type Family } from './instances.ts';

export const PARTS = [
  'read',
  'search',
  'catalogue',
  'rollUp',
  'examples',
  'van',
  ...FAMILIES,
  'published',
] as const;
export type BenchPart = (typeof PARTS)[number];

export interface Flags {
  only: ReadonlySet<BenchPart>;
  seeds: readonly number[];
  /** The engine’s limit; a family’s own limit holds where it is shorter. */
  seconds: number;
  /** 0: the model is not given straight to the solver. */
  directSeconds: number;
  /** Where the rows are written to. */
  json: string | undefined;
}

/** What the widest may take before its answer counts, by its target. */
const WIDEST_SECONDS = 30;

export function limitFor(family: Family, { seconds }: Pick<Flags, 'seconds'>): number {
  return family === 'widest' ? Math.min(WIDEST_SECONDS, seconds) : seconds;
}

/** Throws Error, in words, where a flag is unknown or says nothing. */
export function flagsOf(args: readonly string[]): Flags {
  const { values } = parseArgs({
    args: [...args],
    options: {
      only: { type: 'string', default: PARTS.join() },
      seeds: { type: 'string', default: '1-10' },
      seconds: { type: 'string', default: '60' },
      'direct-seconds': { type: 'string', default: '120' },
      json: { type: 'string' },
    },
  });
  const only = values.only.split(',').map((name) => {
    const part = PARTS.find((known) => known === name);
    if (!part) throw new Error(`--only: there is no ${name}; say some of ${PARTS.join()}`);
    return part;
  });
  return {
    only: new Set(only),
    seeds: seedsOf(values.seeds),
    seconds: numberOf('--seconds', values.seconds, 1),
    directSeconds: numberOf('--direct-seconds', values['direct-seconds'], 0),
    json: values.json,
  };
}

/** "3" or "1-10". */
function seedsOf(text: string): number[] {
  const [, from = '', to = from] = /^(\d+)(?:-(\d+))?$/.exec(text) ?? [];
  const [first, last] = [Number(from), Number(to)];
  if (from === '' || first < 1 || last < first)
    throw new Error(`--seeds: ${text} is no range; write 1-10, or 3`);
  return Array.from({ length: last - first + 1 }, (_, index) => first + index);
}

function numberOf(flag: string, text: string, least: number): number {
  const value = Number(text);
  if (text.trim() === '' || !(value >= least))
    throw new Error(`${flag}: ${text} is no number from ${least} on`);
  return value;
}
