import fc from 'fast-check';
import { expect, test } from 'vitest';
import { worstWays, type Link } from '../../worker/engine/loom/graph/worstWay.ts';

/** A tree of up to ten places in any order: each new place hangs on an earlier one. */
const tree = fc
  .array(
    fc.record({ up: fc.nat(), amps: fc.integer({ min: 1, max: 3 }), cost: fc.nat(50), turned: fc.boolean() }),
    {
      minLength: 1,
      maxLength: 9,
    },
  )
  .chain((given) => {
    const links: Link[] = given.map(({ up, amps, cost, turned }, n) => {
      const [from, to] = turned ? [n + 1, up % (n + 1)] : [up % (n + 1), n + 1];
      return { from, to, amps, cost };
    });
    return fc.shuffledSubarray(links, { minLength: links.length });
  });
const placeCosts = fc.array(fc.nat(20), { minLength: 10, maxLength: 10 });

/** The dearest by walking every way from every place. */
function walked(links: readonly Link[], placeCost: (place: number) => number): number {
  const most = (place: number) =>
    Math.max(...links.filter(({ from, to }) => from === place || to === place).map(({ amps }) => amps));
  const onward = (place: number, came: Link | undefined): number =>
    links
      .filter((link) => link !== came && (link.from === place || link.to === place))
      .filter(({ amps }) => !came || Math.max(amps, came.amps) === most(place))
      .map((link) => {
        const next = link.from === place ? link.to : link.from;
        return link.cost + onward(next, link);
      })
      .reduce((a, b) => Math.max(a, b), 0) + placeCost(place);
  const places = new Set(links.flatMap(({ from, to }) => [from, to]));
  return Math.max(...[...places].map((place) => onward(place, undefined)));
}

test('the dearest way through a tree is that of walking every way, and its links lie one after the other', () => {
  fc.assert(
    fc.property(tree, placeCosts, (links, costs) => {
      const placeCost = (place: number) => costs[place] ?? 0;
      const [found, ...others] = worstWays(links, placeCost);
      expect(others).toEqual([]);
      if (!found || found.loop) throw new Error('a tree is one stretch without a loop');
      expect(found.cost).toBe(walked(links, placeCost));
      const visited = found.way.flatMap(({ from, to }) => [from, to]);
      const places = [...new Set(visited)];
      expect(places).toHaveLength(found.way.length + 1);
      const sum = found.way.reduce((total, { cost }) => total + cost, 0);
      expect(places.reduce((total, place) => total + placeCost(place), sum)).toBe(found.cost);
      found.way.slice(1).forEach((link, n) => {
        const before = found.way[n];
        expect([before?.from, before?.to].some((place) => place === link.from || place === link.to)).toBe(
          true,
        );
      });
    }),
    { numRuns: 500 },
  );
});

test('links side by side, and one that comes back to its own place, are loops with nothing lost', () => {
  const link = (from: number, to: number): Link => ({ from, to, amps: 1, cost: 1 });
  const looped = [link(0, 1), link(1, 0), link(1, 2)];
  expect(worstWays(looped, () => 0)).toEqual([{ links: looped, loop: true }]);
  expect(worstWays([link(3, 3)], () => 0)).toEqual([{ links: [link(3, 3)], loop: true }]);
  expect(worstWays([...looped, link(7, 8)], () => 0)).toHaveLength(2);
});

test('a chain of a hundred thousand links is walked without running out of stack', () => {
  const chain = Array.from({ length: 100_000 }, (_, n) => ({ from: n, to: n + 1, amps: 1, cost: 1 }));
  const [found] = worstWays(chain, () => 0);
  expect(found && !found.loop && found.cost).toBe(100_000);
});
