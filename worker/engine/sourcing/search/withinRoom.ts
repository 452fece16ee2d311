import { suppliersAt, type Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import type { Ground } from './prices.ts';

/**
 * Reduced-cost fixing: parcels whose being sent, and suppliers whose not being used, raises the bound to the limit are
 * decided; told with the ground and its bound that say so. Undefined where nothing is left. With the suppliers' share of the
 * bound worked out anew and all else as it is,
 *
 *   bound − Σ_s min(0, min_k parcel_k) + (the same with parcel k sent, or supplier s unused) ≥ limit
 *
 * means that no mix under the limit sends k, or does without s: the multipliers give a bound on each part of the search.
 */
export function withinRoom(
  network: Network,
  { ground, multipliers, at }: { ground: Ground; multipliers: Multipliers; at: Bound },
  limit: number,
  closed: (supplier: number, parcel: number | undefined, trial: Ground, bound: number) => void,
): Ground | undefined {
  const { parcels, codes } = network;
  const open = ground.open.slice();
  const must = ground.must.slice();
  const now = suppliersAt(network, multipliers, ground, at.parcel).sum;
  const raises = (supplier: number, k: number | undefined, trial: Ground, parcel: Float64Array) => {
    const bound = at.value - now + suppliersAt(network, multipliers, trial, parcel).sum;
    if (bound < limit) return false;
    closed(supplier, k, trial, bound);
    return true;
  };
  codes.forEach((_, supplier) => {
    const own = parcels.of[supplier]!;
    for (const k of own) {
      if (
        ground.open[k] === 0 ||
        (own.every((other) => other === k || ground.open[other] === 0) && ground.must[supplier] === 1)
      )
        continue;
      const forced = at.parcel.slice();
      const alone = ground.open.slice();
      for (const other of own) if (other !== k) [forced[other], alone[other]] = [Infinity, 0];
      const asked = ground.must.slice();
      asked[supplier] = 1;
      if (raises(supplier, k, { ...ground, open: alone, must: asked }, forced)) open[k] = 0;
    }
    if (own.length === 0 || ground.must[supplier] === 1) return;
    const shut = at.parcel.slice();
    const without = ground.open.slice();
    for (const k of own) [shut[k], without[k]] = [Infinity, 0];
    if (raises(supplier, undefined, { ...ground, open: without }, shut)) must[supplier] = 1;
  });
  const isEmpty = codes.some(
    (_, supplier) => must[supplier] === 1 && parcels.of[supplier]!.every((k) => open[k] === 0),
  );
  return isEmpty ? undefined : { ...ground, open, must };
}
