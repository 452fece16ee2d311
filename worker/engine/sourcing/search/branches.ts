import { BeyondSolver } from '../../solver/milp.ts';
import type { Network } from './network.ts';
import type { Node, Worked } from './node.ts';
import type { Ground } from './prices.ts';

/**
 * A supplier used or not, or a parcel sent or not: where the relaxation is least decided, by what it weighs:
 * min(share, 1 − share) · (1 + the dearest charge). Either node is a smaller problem of the same kind, which column
 * generation goes on with (Barnhart et al., Branch-and-price, Operations Research 46 (1998)).
 */
export function branchesOf({ parcels }: Network, { ground, bound, by, sent }: Worked): Node[] {
  let best: { score: number; kids: Ground[] } | undefined;
  const consider = (score: number, kids: () => Ground[]) => {
    if (score > (best?.score ?? 0)) best = { score, kids: kids() };
  };
  const copy = (): Ground => ({ open: ground.open.slice(), must: ground.must.slice() });
  parcels.of.forEach((own, supplier) => {
    const open = own.filter((k) => ground.open[k] === 1);
    if (open.length === 0) return;
    const used = open.reduce((sum, k) => sum + sent[k]!, 0);
    const weight = 1 + Math.max(...open.map((k) => parcels.list[k]!.charge));
    if (ground.must[supplier] === 0)
      consider((0.01 + Math.min(used, 1 - used)) * weight, () => {
        const [yes, no] = [copy(), copy()];
        yes.must[supplier] = 1;
        for (const k of own) no.open[k] = 0;
        return [yes, no];
      });
    if (open.length > 1)
      for (const k of open)
        consider((0.005 + Math.min(sent[k]!, Math.abs(used - sent[k]!))) * weight, () => {
          const [yes, no] = [copy(), copy()];
          yes.must[supplier] = 1;
          for (const other of own) if (other !== k) yes.open[other] = 0;
          no.open[k] = 0;
          return [yes, no];
        });
  });
  if (!best) throw new BeyondSolver('a part of the search cannot be parted');
  return best.kids.map((kid) => ({ ground: kid, bound, by }));
}
