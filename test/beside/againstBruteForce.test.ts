import { beforeAll, describe, expect, it } from 'vitest';
import type { Beside } from '../../worker/engine/model/beside.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { priced } from '../engine/fixtures.ts';
import { cheapest, compareOutcomes, sellsNeeded, type Outcome } from '../sourcing/whole/cheapest.ts';
import { instance, themeOf } from '../sourcing/whole/instances.ts';
import { asText, compare, ends, fromDecimal } from '../sourcing/whole/ratio.ts';
import { RULES_ON } from '../sourcing/whole/rules.ts';
import { scenariosOf } from '../sourcing/whole/scenarios.ts';

interface Case {
  seed: number;
  job: Job;
  /** What nobody sells: the judge counts it as unmet, the mixes do not. */
  unsold: number;
  best: Outcome;
  beside: Beside;
}

/** Some of the small jobs of the brute force, which has all rules of sourcing; of those with lead days some more. */
const DATES = Array.from({ length: 300 }, (_, seed) => seed).filter((seed) => themeOf(seed).name === 'dates');
const SEEDS = [...Array.from({ length: 22 }, (_, index) => 7 + 137 * index), ...DATES];

const asking = (job: Job, request: Partial<Job['request']>): Job => ({
  ...job,
  request: { ...job.request, ...request },
});

/** Amounts without an end are printed to thirty decimals. */
function isOutcome(mix: Beside['bySuppliers'][number] | Mix, { unsold }: Case, { unmet, cost }: Outcome) {
  const found = fromDecimal(mix.cost.amount);
  const isCost = ends(cost) ? compare(found, cost) === 0 : asText(found, 20) === asText(cost, 20);
  return mix.unmet + unsold === unmet && isCost;
}
type Mix = NonNullable<Beside['otherSet']>;

const said = (seed: number, mix: Mix | undefined, outcome: Outcome | undefined) => ({
  seed,
  mix: mix && `${mix.unmet} unmet, ${mix.cost.amount}`,
  judge: outcome && `${outcome.missing} missing, ${outcome.unmet} unmet, ${asText(outcome.cost)}`,
});

/** Every set of some of these. */
const subsets = (codes: readonly string[]) =>
  codes.reduce<string[][]>((sets, code) => [...sets, ...sets.map((set) => [...set, code])], [[]]);

describe('what lies beside the cheapest, against trying every purchase', () => {
  const cases: Case[] = [];

  beforeAll(async () => {
    for (const seed of SEEDS) {
      const job = instance(seed);
      const settings = { ...job.request.settings, besideSeconds: 60 };
      const { beside, unsourced } = await priced(asking(job, { settings }));
      const own = beside?.bySuppliers.at(-1);
      if (beside && own)
        cases.push({ seed, job, beside, unsold: unsourced.length - own.unmet, best: cheapest(job) });
    }
  }, 120_000);

  it('is worked to the end', () => {
    expect(cases.length).toBeGreaterThan(20);
    expect(cases.filter(({ beside }) => beside.unfinished.length > 0)).toEqual([]);
  });

  it('has the cheapest mix of at most so many suppliers, and ends where it is that of the quote', () => {
    let fewer = 0;
    let short = 0;
    for (const one of cases) {
      for (const point of one.beside.bySuppliers) {
        const outcome = cheapest(asking(one.job, { atMostSuppliers: point.atMost }));
        expect([said(one.seed, point, outcome), isOutcome(point, one, outcome)]).toEqual([
          said(one.seed, point, outcome),
          true,
        ]);
        expect(point.suppliers.length).toBeLessThanOrEqual(point.atMost);
        if (compareOutcomes(outcome, one.best) > 0) fewer++;
        if (outcome.unmet > one.best.unmet) short++;
      }
      const last = one.beside.bySuppliers.at(-1);
      expect(last && isOutcome(last, one, one.best)).toBe(true);
    }
    expect(fewer).toBeGreaterThan(4);
    expect(short).toBeGreaterThan(0);
  });

  it('has a mix for every day on which the cheapest that is there by then changes', () => {
    let sooner = 0;
    for (const one of cases) {
      const { job, beside } = one;
      const days = beside.byDay.map(({ leadDays }) => leadDays);
      expect(days).toEqual([...days].sort((a, b) => a - b));
      const leads = new Set([...job.offers, ...job.suppliers].flatMap(({ leadDays }) => leadDays ?? []));
      const last = beside.byDay.at(-1)?.leadDays ?? -1;
      for (const lead of [...leads].filter((day) => day <= last)) {
        const until = beside.byDay.findLast(({ leadDays }) => leadDays <= lead);
        const day = new Date(Date.parse(job.asOf) + lead * 86_400_000).toISOString().slice(0, 10);
        const outcome = cheapest(asking(job, { neededBy: day }));
        if (until === undefined) {
          // Nothing with lead days is there by then, or not from all that are insisted on.
          const none = cheapest(asking(job, { neededBy: job.asOf }));
          const short = outcome.missing > one.best.missing || compareOutcomes(outcome, none) === 0;
          expect([said(one.seed, until, outcome), short]).toEqual([said(one.seed, until, outcome), true]);
          continue;
        }
        expect([said(one.seed, until, outcome), isOutcome(until, one, outcome)]).toEqual([
          said(one.seed, until, outcome),
          true,
        ]);
        if (lead < last) sooner++;
      }
    }
    expect(sooner).toBeGreaterThan(1);
  });

  it('has the cheapest mix of every other set of suppliers', () => {
    let others = 0;
    let none = 0;
    for (const one of cases) {
      const { job, beside, best } = one;
      const own = beside.bySuppliers.at(-1)?.suppliers ?? [];
      const codes = job.suppliers.map(({ code }) => code).sort();
      const { insistOn = [], shutOut = [], atMostSuppliers = Infinity } = job.request;
      // A supplier who sells nothing that is needed cannot be in a mix, and the judge does not miss it.
      const requirements = scenariosOf(job, RULES_ON).flat();
      const selling = codes.filter(
        (code) => !shutOut.includes(code) && sellsNeeded(job, code, requirements, RULES_ON),
      );
      const outcomes = subsets(selling)
        .filter((set) => set.length <= atMostSuppliers && set.join() !== own.join())
        .map((set) => ({
          set,
          outcome: cheapest(
            asking(job, {
              insistOn: set,
              shutOut: codes.filter((code) => !set.includes(code)),
              atMostSuppliers: undefined,
            }),
          ),
        }))
        .filter(({ set, outcome }) => {
          const left = insistOn.filter((code) => !set.includes(code)).length;
          return outcome.missing === 0 && outcome.unmet <= best.unmet && left <= best.missing;
        })
        .map(({ outcome }) => outcome)
        .sort(compareOutcomes);
      const [least] = outcomes;
      const other = beside.otherSet;
      expect([said(one.seed, other, least), other !== undefined]).toEqual([
        said(one.seed, other, least),
        least !== undefined,
      ]);
      if (other && least) {
        others++;
        expect([said(one.seed, other, least), isOutcome(other, one, least)]).toEqual([
          said(one.seed, other, least),
          true,
        ]);
        expect(other.suppliers).not.toEqual(own);
      } else none++;
    }
    expect(others).toBeGreaterThan(8);
    expect(none).toBeGreaterThan(0);
  });
});
