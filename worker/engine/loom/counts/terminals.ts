import type { JobLoom } from '../../model/job.ts';
import type { End } from '../../model/loom.ts';

type PartUse = NonNullable<End['terminal']>;

/** Finds the terminal of an end: its own, or the one that an end which shares it states. */
export type TerminalOf = (end: End) => PartUse | undefined;

export function terminalsOf(loom: Pick<JobLoom, 'wires'>): TerminalOf {
  const shared = new Map<string, PartUse>();
  for (const wire of loom.wires)
    for (const end of [wire.from, wire.to])
      if (end.sharesTerminal !== undefined && end.terminal) shared.set(sharedKey(end), end.terminal);
  return (end) => end.terminal ?? (end.sharesTerminal === undefined ? undefined : shared.get(sharedKey(end)));
}

/** Ends with equal keys share one terminal. */
export function sharedKey({ point, sharesTerminal }: End): string {
  return JSON.stringify([point, sharesTerminal]);
}
