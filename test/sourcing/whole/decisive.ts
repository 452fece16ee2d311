import { cheapest, type Outcome } from './cheapest.ts';
import { instance, themeOf } from './instances.ts';
import { compare } from './ratio.ts';
import { RULE_NAMES, without, type RuleName } from './rules.ts';

/**
 * For each rule, how many of the instances it decides: switched off, the number of unmet needs or the cost is another.
 * Each instance is put to the rules of its theme alone, so that there may be more. `known`: the outcome with all rules,
 * where it is at hand.
 */
export function decisive(
  seeds: readonly number[],
  known: (seed: number) => Outcome | undefined = () => undefined,
): Record<RuleName, number> {
  const decided = Object.fromEntries(RULE_NAMES.map((name) => [name, 0])) as Record<RuleName, number>;
  for (const seed of seeds) {
    const job = instance(seed);
    const best = known(seed) ?? cheapest(job);
    for (const name of new Set(themeOf(seed).rules)) {
      const other = cheapest(job, without(name));
      if (other.unmet !== best.unmet || compare(other.cost, best.cost) !== 0) decided[name] += 1;
    }
  }
  return decided;
}
