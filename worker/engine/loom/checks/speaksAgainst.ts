import type { Finding } from '../../model/finding.ts';
import type { AskedLoom } from '../asked.ts';
import { isAccepted } from './accepted.ts';

/** Sums along a circuit: what is found of the wire that the loom names does not speak against another one. */
const OF_CIRCUITS = ['voltage-drop'];

/**
 * Picks what speaks against that which was put in the looms, out of all that is found with it there: stops and warnings that
 * do not stand word for word without it, and that no loom accepts.
 *
 * @param own what is found without it
 */
export function speakingAgainst(
  own: readonly Finding[],
  looms: readonly AskedLoom[],
): (found: readonly Finding[], named?: ReadonlyMap<string, string>) => Finding[] {
  const contents = new Set(own.map(contentOf));
  const ofCircuits = new Set(own.map(placeOf));
  return (found, named = new Map()) =>
    found.filter(
      (finding) =>
        finding.severity !== 'note' &&
        !contents.has(contentOf(finding)) &&
        !(OF_CIRCUITS.includes(finding.code) && ofCircuits.has(placeOf(finding))) &&
        !isAccepted(finding, looms, named),
    );
}

function contentOf({ code, at, found, limit, source }: Finding): string {
  return JSON.stringify([code, at, found, limit, source]);
}

function placeOf({ code, at }: Finding): string {
  return JSON.stringify([code, at]);
}
