import { changed } from '../problem/changed.ts';
import type { Problem } from '../problem/problem.ts';
import type { Network } from './network.ts';
import type { Ground } from './prices.ts';

/** The problem with what a ground allows, and with these of its choices alone. */
export function restrictedTo(
  problem: Problem,
  { parcels }: Network,
  { open }: Ground,
  keep: (choice: number) => boolean,
): Problem {
  const isShut = (supplier: number) => {
    const own = parcels.of[supplier]!;
    return own.length > 0 && own.every((k) => open[k] === 0);
  };
  return changed(problem, {
    choices: ({ supplier }, at) => !isShut(supplier) && keep(at),
    bands: ({ bands }, supplier) => {
      const left = parcels.of[supplier]!.filter((k) => open[k] === 1);
      // Where goods must be held below a dearer band, that band stands beside it.
      const isHeld = left.some((k) => parcels.list[k]!.heldByValue || parcels.list[k]!.heldByWeight);
      // What is worth buying to make a parcel heavier hangs on the lighter bands.
      const isByWeight = bands.some(({ fromMicrograms }) => fromMicrograms > 0);
      if (left.length === 0 || isHeld || isByWeight) return bands;
      const kept = new Set(left.flatMap((k) => parcels.list[k]!.bands));
      return bands.filter((_, at) => kept.has(at));
    },
  });
}
