import type { PartKind } from '../model/part.ts';
import type { Step } from '../model/step.ts';
import { ceilWhole, D, percentOf, plain } from '../units/decimal.ts';

/** How many of a part one loom's places use in all, with that loom's settings for spares. */
export interface LoomUse {
  used: number;
  sparePercent: number;
  spareMinimum: number;
}

/** Kinds of which some are lost at the bench: a crimp that fails, a seal that tears. */
const SPARED: readonly PartKind[] = ['terminal', 'seal'];

export function hasSpares(kind: PartKind): boolean {
  return SPARED.includes(kind);
}

/** Spares of one part: a percentage of those used, each loom at its own, rounded up once; and a minimum. */
export function spares(uses: readonly LoomUse[]): { spares: number; step: Step } {
  const usedAt = new Map<number, number>();
  for (const use of uses) usedAt.set(use.sparePercent, (usedAt.get(use.sparePercent) ?? 0) + use.used);
  const shares = [...usedAt].sort(([a], [b]) => a - b);
  const sum = shares.reduce((total, [percent, used]) => total.add(percentOf(used, percent)), new D(0));
  const byPercent = ceilWhole(sum);
  const minimum = Math.max(0, ...uses.map((use) => use.spareMinimum));
  const count = Math.max(byPercent, minimum);
  const terms = shares.map(([percent, used]) => `${percent} % of ${used}`).join(' + ');
  return {
    spares: count,
    step: {
      rule: 'spares',
      text: `${terms} = ${plain(sum)} → ${byPercent}, at least ${minimum}: ${count} spare`,
      value: count,
      unit: 'pieces',
    },
  };
}
