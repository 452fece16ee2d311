import type { Part } from './part.ts';

/**
 * A part with what another one knew that became this part; the very same body where nothing is added. Numbers of others pass
 * on here too, with the old code, where parts have such a list.
 */
export function takenOver(stays: Part, gone: Part): Part {
  const known = new Set((stays.standsInFor ?? []).map(nameOf));
  const added = (gone.standsInFor ?? []).filter(
    (stated) => !known.has(nameOf(stated)) && !('part' in stated && stated.part === stays.code),
  );
  if (added.length === 0) return stays;
  return { ...stays, standsInFor: [...(stays.standsInFor ?? []), ...added] };
}

type Stated = NonNullable<Part['standsInFor']>[number];
const nameOf = (stated: Stated) => ('part' in stated ? `part ${stated.part}` : `family ${stated.family}`);
