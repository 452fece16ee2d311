import type { Random } from '../random.ts';

/** Of how many of a hundred middling jobs each rule is part; the rest do without it. */
const SHARES = {
  kits: 50,
  byTheMetre: 60,
  breaksAndSteps: 80,
  conditions: 25,
  postage: 85,
  postageByWeight: 35,
  minimumOrders: 50,
  handling: 40,
  tax: 40,
  abroad: 45,
  currencies: 35,
  standIns: 50,
  families: 45,
  tools: 40,
  shelf: 40,
  orders: 25,
  dates: 30,
  /** Some parts are sold by others than the shop that has the rest: with few suppliers allowed, something goes unmet. */
  scarce: 20,
  atMostSuppliers: 30,
  insistOn: 30,
  shutOut: 30,
  pinned: 30,
  parcelNuisance: 35,
} as const;
type Rule = keyof typeof SHARES;

/** Which rules a job has. */
export type RulesOn = Readonly<Record<Rule, boolean>>;

export function rulesFor(random: Random): RulesOn {
  return Object.fromEntries(
    Object.entries(SHARES).map(([rule, share]) => [rule, random.percent(share)]),
  ) as Record<Rule, boolean>;
}
