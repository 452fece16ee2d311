import { canonicalJson } from '../model/canonical.ts';
import { pointer } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { JobLoom } from '../model/job.ts';
import { LOOM_LISTS } from '../model/loomLists.ts';
import { optionsInOrder } from '../model/loomOptions.ts';

type List = (typeof LOOM_LISTS)[number];
type Item = JobLoom[List][number];

/** Of a job that holds one loom: what pointers into that loom start with. */
const LOOM = /^\/looms\/0(?=\/|$)/;

/**
 * Turns a pointer into a normalised job of one loom into one into that loom as it was stored, where lists stand in the
 * order of whoever wrote them. A pointer to anything else, as to a part of the catalogue, becomes that of the whole.
 */
export function inStored(normalised: JobLoom, stored: JobLoom): (at: string) => string {
  const places = new Map<List, number[]>(
    LOOM_LISTS.map((list) => [list, placesIn(normalised[list], stored[list])]),
  );
  return (at) => {
    if (!LOOM.test(at)) return '';
    const within = at.replace(LOOM, '');
    const [, list = '', index = '', rest = ''] = /^\/([^/]+)\/(\d+)(.*)$/.exec(within) ?? [];
    const place = places.get(list as List)?.[Number(index)];
    return place === undefined ? within : `${pointer([list, place])}${rest}`;
  };
}

/** For each item of a normalised list, its place in the stored one; alike items in their order. */
function placesIn(normalised: readonly Item[], stored: readonly Item[]): number[] {
  const known = new Map<string, number[]>();
  stored.forEach((item, index) => {
    addTo(known, keyOf(item), index);
  });
  const next = new Map<string, number>();
  return normalised.map((item) => {
    const key = keyOf(item);
    const turn = next.get(key) ?? 0;
    next.set(key, turn + 1);
    return known.get(key)?.[turn] ?? -1;
  });
}

/** What names an item: its id; else all that it says. */
function keyOf(item: Item): string {
  if ('id' in item) return item.id;
  return canonicalJson('finding' in item ? item : optionsInOrder(item));
}
