import { colourKey, colourWords, shadesOf } from '../../model/colour.ts';
import type { Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import { sizeLabel } from '../../model/size.ts';
import { tradeAreaMm2, tradeKey } from '../../trade/wireSizes.ts';
import { coresByCable } from '../graph/branches.ts';
import type { CheckContext } from './context.ts';
import { atWire } from './eachWire.ts';
import { figuresOf, someOf } from './words.ts';

type Core = Extract<Part, { kind: 'cable' }>['cores'][number];

/**
 * Wires in a cable that has no core of their size and colour left. More wires than cores are told of the cable, not here.
 */
export function checkCableCores({ looms, parts }: CheckContext): Finding[] {
  return looms.flatMap((asked) => {
    const { loom } = asked;
    if (loom.cables.length === 0) return [];
    const wiresIn = coresByCable(loom);
    const places = new Map(loom.wires.map((wire, index) => [wire, index]));
    return loom.cables.flatMap(({ id, part: code }): Finding[] => {
      const part = code === undefined ? undefined : parts.get(code);
      if (part?.kind !== 'cable') return [];
      const { without, left } = shared(wiresIn.get(id) ?? [], part.cores);
      return without.slice(0, left.length).map((wire) => ({
        code: 'core-differs',
        severity: isThinner(wire, left) ? 'stop' : 'warning',
        ...atWire({ asked, wire, index: places.get(wire) ?? 0 }, 'inCable'),
        found: `${wordsOf(wire)}, in cable ${id}`,
        limit: `one of the cores left in ${part.code}: ${someOf(left.map(wordsOf))}`,
        source: figuresOf(part),
        todo: 'Give the wire the size and colour of its core, or name a cable that has such a core.',
      }));
    });
  });
}

/** The wires that get no core of their own size and colour, and the cores that are left. */
function shared(wires: readonly Wire[], cores: readonly Core[]): { without: Wire[]; left: Core[] } {
  const left = [...cores];
  const without = wires.filter((wire) => {
    const key = keyOf(wire);
    const at = left.findIndex((core) => keyOf(core) === key);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
  return { without, left };
}

/** Whether a wire that carries a known current, or stands behind a fuse, could only have a core that is too thin for it. */
function isThinner({ size, amps, fuse }: Wire, left: readonly Core[]): boolean {
  const own = tradeAreaMm2(size);
  if (own === undefined || (amps === undefined && fuse === undefined)) return false;
  return left.every((core) => (tradeAreaMm2(core.size) ?? own) < own);
}

function keyOf({ size, colour }: Pick<Wire, 'size' | 'colour'>): string {
  return `${tradeKey(size)} ${colourKey(shadesOf(colour))}`;
}

/** "1 mm² red" */
function wordsOf({ size, colour }: Pick<Wire, 'size' | 'colour'>): string {
  return `${sizeLabel(size)} ${colourWords(shadesOf(colour))}`;
}
