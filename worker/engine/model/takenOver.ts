import { LIMITS } from './limits.ts';
import type { Part } from './part.ts';

/** Whose a code is that a part had before it was merged: the club’s own, from before. */
const FORMER = 'Former code';

/**
 * A part with what another one knew that became this part: what it stands in for, and the numbers by which it is found, its
 * old code and its maker’s number among them. The very same body where nothing is added.
 */
export function takenOver(stays: Part, gone: Part): Part {
  const standsInFor = added(stays.standsInFor ?? [], gone.standsInFor ?? [], nameOf).filter(
    (stated) => !('part' in stated && stated.part === stays.code),
  );
  const room = LIMITS.numbersOfAPart - (stays.numbers ?? []).length;
  const numbers = added(stays.numbers ?? [], numbersOf(gone), JSON.stringify).slice(0, room);
  if (standsInFor.length === 0 && numbers.length === 0) return stays;
  return {
    ...stays,
    ...(standsInFor.length > 0 ? { standsInFor: [...(stays.standsInFor ?? []), ...standsInFor] } : {}),
    ...(numbers.length > 0 ? { numbers: [...(stays.numbers ?? []), ...numbers] } : {}),
  };
}

function numbersOf({ code, maker, makerCode, numbers = [] }: Part): NonNullable<Part['numbers']> {
  return [
    { whose: FORMER, number: code },
    ...(maker === undefined || makerCode === undefined ? [] : [{ whose: maker, number: makerCode }]),
    ...numbers,
  ];
}

/** Those of the others that are not among the own. */
function added<T>(own: readonly T[], others: readonly T[], keyOf: (item: T) => string): T[] {
  const known = new Set(own.map(keyOf));
  return others.filter((other) => !known.has(keyOf(other)));
}

type Stated = NonNullable<Part['standsInFor']>[number];
const nameOf = (stated: Stated) => ('part' in stated ? `part ${stated.part}` : `family ${stated.family}`);
