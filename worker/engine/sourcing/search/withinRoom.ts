import { suppliersAt, type Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import type { Ground } from './prices.ts';

/**
 * Reduced-cost fixing: parcels whose being sent, and suppliers whose not being used, raises the bound to the limit are
 * decided. Undefined where nothing is left.
 */
export function withinRoom(
  network: Network,
  { ground, multipliers, at }: { ground: Ground; multipliers: Multipliers; at: Bound },
  limit: number,
): Ground | undefined {
  const { parcels, codes } = network;
  const open = ground.open.slice();
  const must = ground.must.slice();
  const now = suppliersAt(network, multipliers, ground, at.parcel).sum;
  const raises = (trial: Ground, parcel: Float64Array) =>
    at.value - now + suppliersAt(network, multipliers, trial, parcel).sum >= limit;
  codes.forEach((_, supplier) => {
    const own = parcels.of[supplier]!;
    for (const k of own) {
      if (
        ground.open[k] === 0 ||
        (own.every((other) => other === k || ground.open[other] === 0) && ground.must[supplier] === 1)
      )
        continue;
      const forced = at.parcel.slice();
      for (const other of own) if (other !== k) forced[other] = Infinity;
      const asked = ground.must.slice();
      asked[supplier] = 1;
      if (raises({ open: ground.open, must: asked }, forced)) open[k] = 0;
    }
    if (own.length === 0 || ground.must[supplier] === 1) return;
    const shut = at.parcel.slice();
    for (const k of own) shut[k] = Infinity;
    if (raises(ground, shut)) must[supplier] = 1;
  });
  const isEmpty = codes.some(
    (_, supplier) => must[supplier] === 1 && parcels.of[supplier]!.every((k) => open[k] === 0),
  );
  return isEmpty ? undefined : { open, must };
}
