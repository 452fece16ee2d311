import { SHARE_IN_PART } from '../../solver/tolerances.ts';
import { BeyondSolver } from '../../solver/milp.ts';
import type { Network } from './network.ts';
import type { Node, Worked } from './node.ts';
import type { Ground, SharedLimits } from './prices.ts';

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
  const copy = (): Ground => ({ ...ground, open: ground.open.slice(), must: ground.must.slice() });
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

/**
 * No more units of a shared choice than the relaxation buys, or more: where it buys a part of one, or where a plan, used in
 * part, needs more for itself. Undefined where there is none such.
 */
export function sharedBranchesOf(
  { shared: choices, parcels }: Network,
  { ground, bound, by, shared }: Worked,
): Node[] | undefined {
  const { bought, asked } = shared;
  const at = choices.findIndex((_, place) => {
    const whole = Math.floor(bought[place]! + SHARE_IN_PART);
    const isInPart = Math.max(asked[place]!, bought[place]!) > whole + SHARE_IN_PART;
    // What a ground holds already parts nothing.
    return isInPart && whole < (ground.shared?.most[place] ?? Infinity);
  });
  if (at < 0) return undefined;
  const units = Math.floor(bought[at]! + SHARE_IN_PART);
  const copy = (): Ground & { shared: SharedLimits } => ({
    open: ground.open.slice(),
    must: ground.must.slice(),
    shared: {
      least: ground.shared?.least.slice() ?? new Float64Array(choices.length),
      most: ground.shared?.most.slice() ?? new Float64Array(choices.length).fill(Infinity),
    },
  });
  const [less, more] = [copy(), copy()];
  less.shared.most[at] = units;
  more.shared.least[at] = units + 1;
  const { supplier } = choices[at]!;
  if (parcels.of[supplier]!.length > 0) more.must[supplier] = 1;
  return [less, more].map((kid) => ({ ground: kid, bound, by }));
}

/** Whether the relaxation sends each parcel wholly or not at all. */
export function isSentWhole({ sent }: Pick<Worked, 'sent'>): boolean {
  return sent.every((share) => Math.min(share, 1 - share) < SHARE_IN_PART);
}
