import type { Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Wire } from '../../model/loom.ts';
import type { AskedLoom } from '../asked.ts';
import type { CheckContext } from './context.ts';
import { atWire, eachWire, type WirePlace } from './eachWire.ts';
import { Longest } from './longest.ts';

/** A nought too many or too few. */
const SLIP = 10;
/** How many times the longest others at both ends together. */
const FAR = 2;
/** How many times the longest other wire of the loom. */
const LONGEST = 1.5;
/** Of fewer wires it is not known what is long. */
const OTHERS = 10;

const SOURCE = 'common practice, no source';
const TODO =
  'Measure again, and look for a zero too many or too few. If it is right, accept this with a note.';

interface Measured {
  place: WirePlace;
  wire: Wire;
  lengthMm: number;
  /** Whether no branches say how long it is: a stated length that differs from its way is told already. */
  byItself: boolean;
}

/** Stated lengths of wires that do not go with those between the same points, or with those at both of their ends. */
export function checkWireLengths({ looms }: CheckContext): Finding[] {
  return looms.flatMap((asked) => {
    const wires = measured(asked);
    const between = new Map<string, Measured[]>();
    for (const each of wires)
      addTo(between, [each.wire.from.point, each.wire.to.point].sort().join(' '), each);
    const unlike = [...between.values()].flatMap(besideOthers);
    const told = new Set(unlike.map(({ subject }) => subject));
    return [...unlike, ...farFromOthers(wires).filter(({ subject }) => !told.has(subject))];
  });
}

function measured(asked: AskedLoom): Measured[] {
  const cables = new Map(asked.loom.cables.map(({ id, length }) => [id, length?.mm]));
  return eachWire([asked]).flatMap((place): Measured[] => {
    const { wire } = place;
    if (wire.function) return [];
    const way = asked.ways.ofWire(wire).way?.lengthMm;
    const lengthMm = wire.length?.mm ?? (way || cables.get(wire.inCable ?? ''));
    return lengthMm === undefined
      ? []
      : [{ place, wire, lengthMm, byItself: wire.length !== undefined && !way }];
  });
}

/** Of two between the same points one is told; of more, those that are far from the middle of the others. */
function besideOthers(wires: readonly Measured[]): Finding[] {
  const sorted = [...wires].sort((a, b) => a.lengthMm - b.lengthMm);
  const found = sorted.flatMap((each, index): Finding[] => {
    // Of an even number of others two are in the middle; going with one of them is enough.
    const [low, high] = [(sorted.length - 2) >> 1, (sorted.length - 1) >> 1].map(
      (middle) => sorted[middle < index ? middle : middle + 1],
    );
    if (!low || !high || !each.byItself) return [];
    return isFar(each, low) && isFar(each, high) ? [unlike(each, low)] : [];
  });
  return sorted.length === 2 ? found.slice(-1) : found;
}

function isFar(one: Measured, other: Measured): boolean {
  return one.lengthMm >= SLIP * other.lengthMm || other.lengthMm >= SLIP * one.lengthMm;
}

function unlike({ place, wire, lengthMm }: Measured, other: Measured): Finding {
  const least = Math.floor(other.lengthMm / SLIP);
  return {
    code: 'wire-length-doubtful',
    severity: 'warning',
    ...atWire(place, 'length', 'mm'),
    found: `${lengthMm} mm from ${wire.from.point} to ${wire.to.point}; wire ${other.wire.id} has ${other.lengthMm} mm`,
    limit: `more than ${least} and less than ${other.lengthMm * SLIP} mm: less than ten times the other, and more than a tenth of it`,
    source: SOURCE,
    todo: TODO,
  };
}

function farFromOthers(wires: readonly Measured[]): Finding[] {
  const inLoom = new Longest<Measured>();
  const atPoint = new Map<string, Longest<Measured>>();
  for (const each of wires) {
    inLoom.add(each);
    for (const point of new Set([each.wire.from.point, each.wire.to.point])) {
      const there = atPoint.get(point) ?? new Longest();
      atPoint.set(point, there);
      there.add(each);
    }
  }
  if (inLoom.count <= OTHERS) return [];
  return wires.flatMap((each): Finding[] => {
    const { place, wire, lengthMm, byItself } = each;
    const [from, to] = [wire.from.point, wire.to.point].map(
      (point) => atPoint.get(point)?.besides(each)?.lengthMm,
    );
    const longestMm = inLoom.besides(each)?.lengthMm ?? 0;
    if (!byItself) return [];
    const told = (found: string, mostMm: number, why: string): Finding[] =>
      lengthMm <= mostMm
        ? []
        : [
            {
              code: 'wire-length-doubtful',
              severity: 'warning',
              ...atWire(place, 'length', 'mm'),
              found: `${lengthMm} mm; the longest other wire is ${found}${longestMm} mm in the loom`,
              limit: `at most ${mostMm} mm: ${why}`,
              source: SOURCE,
              todo: TODO,
            },
          ];
    // Where it alone comes to a point, nothing says how far off that is.
    if (from === undefined || to === undefined)
      return told('', FAR * longestMm, 'twice that, because no other wire shows how far away its end is');
    return told(
      `${from} mm at ${wire.from.point}, ${to} mm at ${wire.to.point}, and `,
      Math.floor(Math.max(FAR * (from + to), LONGEST * longestMm)),
      'twice the first two together, or half as much again as the last',
    );
  });
}
