import { byCode } from '../../model/code.ts';
import type { Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { End, Wire } from '../../model/loom.ts';
import { specKey, specLabel, specOf } from '../../job/wireSpec.ts';
import type { AskedLoom } from '../asked.ts';
import type { CheckContext } from './context.ts';
import { atWire, eachWire, type WirePlace } from './eachWire.ts';

/**
 * Wires that may be one wire entered twice: ends, cable type, size and colour alike, either way round. Of one pair it is
 * asked once, at the later one. Two that say themselves that they are two are not asked about: with ways of their own, in
 * terminals of different kinds, along different branches, in different cables, of circuits with different names, or
 * twisted with each other.
 */
export function checkDoubleWires({ looms, job }: CheckContext): Finding[] {
  return looms.flatMap((bought) => {
    // As drawn: two sizes may be bought in one.
    const asked = { ...bought, loom: job.looms[bought.index] ?? bought.loom };
    const alike = new Map<string, WirePlace[]>();
    for (const place of eachWire([asked])) addTo(alike, keyOf(asked, place.wire), place);
    return [...alike.values()]
      .filter(({ length }) => length > 1)
      .flatMap((places) => byRoute(asked, places))
      .flatMap(pairs);
  });
}

/** Ways may hold any sign; JSON keeps them apart. */
function keyOf({ terminalOf }: AskedLoom, wire: Wire): string {
  const end = (at: End) =>
    JSON.stringify([at.point, at.way, at.way === undefined ? terminalOf(at)?.part : undefined]);
  const ends = [end(wire.from), end(wire.to)].sort(byCode);
  return JSON.stringify([specKey(specOf(wire)), wire.inCable, ...ends]);
}

/** Places of one key parted by the branches along which they run. */
function byRoute({ ways }: AskedLoom, places: readonly WirePlace[]): WirePlace[][] {
  const routes = new Map<string, WirePlace[]>();
  for (const place of places) {
    const branches = ways.ofWire(place.wire).way?.branches.map(({ id }) => id) ?? [];
    addTo(routes, [...branches].sort(byCode).join(' '), place);
  }
  return [...routes.values()];
}

/** Each with the first before it that may be the same wire. */
function pairs(places: readonly WirePlace[]): Finding[] {
  const ofCircuit = new Map<string | undefined, WirePlace>();
  return places.flatMap((place): Finding[] => {
    const { circuit } = place.wire;
    const [first] = places;
    // A wire that names no circuit may be of any; two names are two wires.
    const same = circuit === undefined ? first : (ofCircuit.get(circuit) ?? ofCircuit.get(undefined));
    if (!ofCircuit.has(circuit)) ofCircuit.set(circuit, place);
    if (!same || same === place || areTwisted(same.wire, place.wire)) return [];
    return [twice(same, place)];
  });
}

function areTwisted(one: Wire, other: Wire): boolean {
  return one.twistedWith === other.id || other.twistedWith === one.id;
}

function twice({ wire: one }: WirePlace, place: WirePlace): Finding {
  const { wire } = place;
  return {
    code: 'wire-entered-twice',
    severity: 'warning',
    ...atWire(place),
    where: `${atWire(place).where}, and ${one.id}`,
    subject: `wires:${one.id},${wire.id}`,
    found: `${one.id} and ${wire.id}, both ${specLabel(specOf(wire))} from ${endWords(one.from)} to ${endWords(one.to)}`,
    limit: 'each wire entered once',
    source: 'common practice, no source',
    todo: 'Both are bought. If it is one wire, remove one of the two. If there are two wires, state the way of each end, or accept this with a note.',
  };
}

const endWords = ({ point, way }: End) => (way === undefined ? point : `${point} way ${way}`);
