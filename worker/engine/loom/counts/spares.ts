import quantile from '@stdlib/stats-base-dists-binomial-quantile';
import type { PartKind } from '../../model/part.ts';
import type { SettingValues } from '../../model/settings.ts';
import type { SpareJoinRule } from '../../model/spareRules.ts';
import type { Step } from '../../model/step.ts';
import { ceilWhole, D, percentOf, plain } from '../../units/decimal.ts';

/** How many of a part one loom's places use in all that are joined in one way, with that loom's settings for spares. */
export interface LoomUse {
  used: number;
  sparePercent: number;
  spareMinimum: number;
  crimpFailurePercent: number;
  spareConfidencePercent: number;
}

/** Kinds of which some are lost at the bench wherever they are counted: a join that fails, a seal that tears. */
const SPARED: readonly PartKind[] = ['terminal', 'seal'];

/** Whether spares are bought of a part; a cover goes with its terminal, and has some where it stands at a wire's end. */
export function hasSpares(kind: PartKind, atEnd: boolean): boolean {
  return SPARED.includes(kind) || (kind === 'cover' && atEnd);
}

/** What a loom's settings say of joins of one kind: each figure by the first rule for it that states it. */
export function joinSettings(
  settings: SettingValues,
  join: SpareJoinRule['join'] | undefined,
): Omit<LoomUse, 'used'> {
  const rules = settings.spareByJoin.filter((rule) => rule.join === join);
  const first = (what: 'sparePercent' | 'spareMinimum' | 'failurePercent') =>
    rules.find((rule) => rule[what] !== undefined)?.[what];
  return {
    sparePercent: first('sparePercent') ?? settings.sparePercent,
    spareMinimum: first('spareMinimum') ?? settings.spareMinimum,
    crimpFailurePercent: first('failurePercent') ?? settings.crimpFailurePercent,
    spareConfidencePercent: settings.spareConfidencePercent,
  };
}

/**
 * Spares of one part, the greatest of three: a percentage of those used, each loom and kind of join at its own, rounded up
 * once; as many as make it sure enough that the good ones suffice; and a minimum.
 */
export function spares(uses: readonly LoomUse[]): { spares: number; step: Step } {
  const usedAt = new Map<number, number>();
  for (const use of uses) usedAt.set(use.sparePercent, (usedAt.get(use.sparePercent) ?? 0) + use.used);
  const shares = [...usedAt].sort(([a], [b]) => a - b);
  const sum = shares.reduce((total, [percent, used]) => total.add(percentOf(used, percent)), new D(0));
  const byPercent = ceilWhole(sum);
  const minimum = greatest(uses, 'spareMinimum');
  const used = uses.reduce((total, use) => total + use.used, 0);
  const failing = greatest(uses, 'crimpFailurePercent');
  const sure = greatest(uses, 'spareConfidencePercent');
  const byChance = sure > 0 && failing > 0 ? startedFor(used, failing, sure) - used : 0;
  const count = Math.max(byPercent, byChance, minimum);
  const terms = shares.map(([percent, used]) => `${percent} % of ${used}`).join(' + ');
  const chance = byChance > 0 ? `${byChance} to be ${sure} % sure where ${failing} % fail, ` : '';
  return {
    spares: count,
    step: {
      rule: 'spares',
      text: `${terms} = ${plain(sum)} → ${byPercent}, ${chance}at least ${minimum}: ${count} spare`,
      value: count,
      unit: 'pieces',
    },
  };
}

/** Of several looms and kinds of join the most cautious. */
function greatest(uses: readonly LoomUse[], what: Exclude<keyof LoomUse, 'used' | 'sparePercent'>): number {
  return Math.max(0, ...uses.map((use) => use[what]));
}

/**
 * How many to start with so that, where so many percent fail, the good ones are enough as surely as asked: the smallest
 * n of which the binomial's quantile of failures leaves `good`.
 */
export function startedFor(good: number, failingPercent: number, surePercent: number): number {
  // Where it comes out even, floating point may miss by a last digit, and one more would be bought.
  const sure = surePercent / 100 - 1e-12;
  const enough = (n: number) => quantile(sure, n, failingPercent / 100) <= n - good;
  let low = good;
  let step = 1;
  while (!enough(low + step)) {
    low += step;
    step *= 2;
  }
  if (enough(good)) return good;
  let high = low + step;
  // low is not enough, high is.
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
