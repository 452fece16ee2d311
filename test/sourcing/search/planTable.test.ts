import fc from 'fast-check';
import { expect, test } from 'vitest';
import type {
  Link,
  Network,
  NetworkRequirement,
  Step,
} from '../../../worker/engine/sourcing/search/network.ts';
import { PlanTable, type LinkPrices } from '../../../worker/engine/sourcing/search/prices.ts';

/** A requirement's links by stage, what each step gives and costs; a link without prices has no open parcel. */
interface Drawn {
  needs: number[];
  links: { stage: number; isOpen: boolean; steps: { gives: number; cost: number }[] }[];
}

const drawn = (mostNeed: number) =>
  fc.integer({ min: 1, max: 3 }).chain((stages): fc.Arbitrary<Drawn> => {
    const steps = fc.record({
      gives: fc.integer({ min: 1, max: mostNeed }),
      cost: fc.integer({ min: 0, max: 50 }),
    });
    return fc.record({
      needs: fc
        .array(fc.integer({ min: 0, max: mostNeed }), { minLength: stages, maxLength: stages })
        .map((needs) => needs.sort((a, b) => a - b)),
      links: fc
        .array(
          fc.record({
            stage: fc.integer({ min: 0, max: stages - 1 }),
            isOpen: fc.integer({ min: 0, max: 9 }).map((draw) => draw > 0),
            steps: fc.array(steps, { minLength: 1, maxLength: 3 }),
          }),
          { maxLength: 4 },
        )
        .map((links) => links.sort((a, b) => a.stage - b.stage)),
    });
  });

function tableOf({ needs, links }: Drawn): PlanTable {
  const requirement = { links: links.map((_, at) => at), needs } as unknown as NetworkRequirement;
  const network = {
    links: links.map(({ stage, steps }): Link => {
      const own = steps.map(({ gives }): Step => ({ gives, value: 0, grams: 0, lines: [] }));
      return { requirement: 0, supplier: 0, stage, shared: undefined, choices: [], steps: own };
    }),
  } as unknown as Network;
  const prices = links.map(({ isOpen, steps }): LinkPrices | undefined =>
    isOpen
      ? { costs: Float64Array.from(steps, ({ cost }) => cost), parcels: new Int32Array(steps.length) }
      : undefined,
  );
  return new PlanTable(network, requirement, prices);
}

/** A choice of a step, or −1, of each of some links. */
type Combination = readonly number[];

function combinationsOf(links: Drawn['links']): Combination[] {
  return links.reduce<Combination[]>(
    (all, { isOpen, steps }) =>
      all.flatMap((before) =>
        [-1, ...(isOpen ? steps.keys() : [])].map((step): Combination => [...before, step]),
      ),
    [[]],
  );
}

const sumOf = (links: Drawn['links'], chosen: Combination, of: 'gives' | 'cost', lastStage = Infinity) =>
  chosen.reduce((sum, step, at) => {
    const { stage, steps } = links[at]!;
    return step < 0 || stage > lastStage ? sum : sum + steps[step]![of];
  }, 0);

/** Whether by each stage up to the last one there is as much as its need. */
const meets = ({ needs, links }: Drawn, chosen: Combination, stages = needs.length) =>
  needs.slice(0, stages).every((need, stage) => sumOf(links, chosen, 'gives', stage) >= need);

function leastOf(asked: Drawn): number {
  const costs = combinationsOf(asked.links)
    .filter((chosen) => meets(asked, chosen))
    .map((chosen) => sumOf(asked.links, chosen, 'cost'));
  return Math.min(...costs);
}

test('the least of a requirement is that of all combinations of steps, and its plan is one of these', () => {
  fc.assert(
    fc.property(drawn(6), (asked) => {
      const table = tableOf(asked);
      const least = leastOf(asked);
      expect(table.least).toBe(least);
      if (least === Infinity) return;
      const chosen = asked.links.map((_, at) => table.plan().find(({ link }) => link === at)?.step ?? -1);
      expect(meets(asked, chosen)).toBe(true);
      expect(sumOf(asked.links, chosen, 'cost')).toBe(least);
    }),
    { numRuns: 1_000 },
  );
});

test('what the links from one on cost at the least is told after any choice of those before that keeps to ended stages', () => {
  fc.assert(
    fc.property(drawn(5), ({ needs, links }) => {
      const table = tableOf({ needs, links });
      for (let at = 0; at <= links.length; at++) {
        const ended = links[at]?.stage ?? needs.length;
        const after = combinationsOf(links.slice(at));
        for (const before of combinationsOf(links.slice(0, at))) {
          const given = sumOf(links, before, 'gives');
          const costs = after
            .filter((chosen) => meets({ needs, links }, [...before, ...chosen]))
            .map((chosen) => sumOf(links.slice(at), chosen, 'cost'));
          if (meets({ needs, links }, before, ended)) expect(table.rest(at, given)).toBe(Math.min(...costs));
        }
      }
    }),
    { numRuns: 200 },
  );
});

test('large needs are counted in coarser steps, and the least is then no more than that of any combination', () => {
  let coarse = 0;
  fc.assert(
    fc.property(drawn(5_000), (asked) => {
      const table = tableOf(asked);
      if (table.isCoarse) coarse++;
      expect(table.least).toBeLessThanOrEqual(leastOf(asked));
      if (!table.isCoarse) expect(table.least).toBe(leastOf(asked));
    }),
    { numRuns: 100 },
  );
  expect(coarse).toBeGreaterThan(20);
});
