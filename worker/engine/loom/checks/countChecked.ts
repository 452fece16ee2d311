import { SIDES } from '../../model/loom.ts';
import { extremes } from '../protection/fuseSites.ts';
import { smallestBehind } from './behindFuses.ts';
import type { CheckContext } from './context.ts';

/** Against what things were checked: how many of each. */
export interface Against {
  published: number;
  /** Figures that parts of the catalogue state. */
  parts: number;
  /** Common practice without a published source. */
  practice: number;
  not: number;
}

export interface Checked {
  /** Wires with a current, by their amps. */
  wires: Against;
  fuses: Against;
  /** Terminals on wires, by the copper that they take; one that several ends share counts at each. */
  ends: Against;
}

/** What the checks of size had to go by. The weaker of two grounds counts: half of what blows a fuse is practice. */
export function countChecked(context: CheckContext): Checked {
  const counts: Checked = { wires: none(), fuses: none(), ends: none() };
  for (const { wires } of context.circuits.all)
    for (const { asked, wire } of wires) {
      if ((wire.amps ?? 0) > 0) counts.wires[groundOf(context.figures.of(wire).ratedAmps?.source)] += 1;
      for (const side of SIDES) {
        const code = asked.terminalOf(wire[side])?.part;
        const part = code === undefined ? undefined : context.parts.get(code);
        if (part?.kind !== 'terminal') continue;
        const stated = part.wireMinMm2 !== undefined || part.wireMaxMm2 !== undefined;
        counts.ends[stated ? 'parts' : 'not'] += 1;
      }
    }
  const behind = smallestBehind(context);
  for (const site of context.protection.sites) {
    const fuse = extremes(site)?.most;
    const least = fuse && behind(site);
    counts.fuses[least && fuse.basis === 'blow' ? 'practice' : groundOf(least?.source)] += 1;
  }
  return counts;
}

function none(): Against {
  return { published: 0, parts: 0, practice: 0, not: 0 };
}

/** A figure’s source is a part of the catalogue or a published table. */
function groundOf(source: string | undefined): keyof Against {
  if (source === undefined) return 'not';
  return source.startsWith('part ') ? 'parts' : 'published';
}
