import { pointer, type Finding } from '../../model/finding.ts';
import type { AskedLoom } from '../asked.ts';
import type { Covering } from '../coverings/layers.ts';
import type { CheckContext } from './context.ts';
import { Longest } from './longest.ts';

/** How many times the longest wire. */
const OVER_WIRES = 2;
/** How many times the longest other covering of its kind: a nought too many. */
const OVER_OTHERS = 10;
/** Of fewer coverings it is not known what is long. */
const OTHERS = 3;

interface Stated {
  covering: Covering;
  index: number;
  lengthMm: number;
}

/**
 * Stated lengths of coverings that no wire of the loom is long enough for, or that are far beyond the others of their kind.
 * Of tape its own length is stated, which may be any number of times its wires'.
 */
export function checkCoveringLengths({ looms }: CheckContext): Finding[] {
  return looms.flatMap((asked) => {
    const stated = asked.loom.coverings.flatMap((covering, index): Stated[] =>
      covering.lengthMm === undefined ? [] : [{ covering, index, lengthMm: covering.lengthMm }],
    );
    if (stated.length === 0) return [];
    const wiresMm = longestWireMm(asked);
    const kinds = new Map<string, Longest<Stated>>();
    for (const each of stated) {
      const ofKind = kinds.get(each.covering.kind) ?? new Longest();
      kinds.set(each.covering.kind, ofKind);
      ofKind.add(each);
    }
    return stated.flatMap((each): Finding[] => {
      const ofKind = kinds.get(each.covering.kind);
      const otherMm = ofKind && ofKind.count > OTHERS ? ofKind.besides(each)?.lengthMm : undefined;
      if (each.covering.kind !== 'tape' && wiresMm > 0 && each.lengthMm > OVER_WIRES * wiresMm)
        return [
          doubtful(asked, each, {
            found: `${each.lengthMm} mm; the longest wire of the loom is ${wiresMm} mm`,
            limit: `at most ${OVER_WIRES * wiresMm} mm, twice that`,
          }),
        ];
      if (otherMm !== undefined && each.lengthMm >= OVER_OTHERS * otherMm)
        return [
          doubtful(asked, each, {
            found: `${each.lengthMm} mm; the longest of the ${(ofKind?.count ?? 0) - 1} others of its kind is ${otherMm} mm`,
            limit: `less than ${OVER_OTHERS * otherMm} mm, ten times that`,
          }),
        ];
      return [];
    });
  });
}

/** By what is stated and along the branches, of wires and cables, mm; 0 where nothing is known. */
function longestWireMm({ loom, ways }: AskedLoom): number {
  let longest = 0;
  for (const wire of loom.wires)
    longest = Math.max(longest, wire.length?.mm ?? 0, ways.ofWire(wire).way?.lengthMm ?? 0);
  for (const { length } of loom.cables) longest = Math.max(longest, length?.mm ?? 0);
  return longest;
}

function doubtful(
  { loom, index }: AskedLoom,
  { covering, index: at }: Stated,
  told: Pick<Finding, 'found'> & { limit: string },
): Finding {
  return {
    code: 'covering-length-doubtful',
    severity: 'warning',
    at: pointer(['looms', index, 'coverings', at, 'lengthMm']),
    where: `loom ${loom.code}, covering ${covering.id}`,
    subject: `covering:${covering.id}`,
    ...told,
    source: 'common practice, no source',
    todo: 'Measure again, and look for a zero too many. If it is right, accept this with a note.',
  };
}
