import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { askedLooms } from '../../worker/engine/loom/asked.ts';
import { circuitsOf } from '../../worker/engine/loom/graph/circuits.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bare, jobOf, wire } from './fixtures.ts';

type LoomInput = JobInput['looms'][number];
type PointInput = NonNullable<LoomInput['points']>[number];
type WireInput = NonNullable<LoomInput['wires']>[number];

const point = (id: string, kind: PointInput['kind'], more: object = {}): PointInput => ({
  id,
  kind,
  ...more,
});
/** A wire between points, each as "point", "point.way" or "point#shared". */
const link = (id: string, from: string, to: string, more: object = {}): WireInput =>
  wire(id, { from: end(from), to: end(to), ...more });
function end(text: string): WireInput['from'] {
  const [, at = '', mark, word = ''] = /^([^.#]+)([.#])?(.*)$/.exec(text) ?? [];
  return {
    ...bare(at),
    ...(mark === '.' ? { way: word } : {}),
    ...(mark === '#' ? { sharesTerminal: word } : {}),
  };
}
const circuits = (...looms: Partial<LoomInput>[]) => {
  const all = looms.map((given, at) => ({ code: `l${at + 1}`, name: 'Loom', ...given }));
  const job = jobOf({
    looms: all,
    request: { looms: all.map(({ code }) => ({ loom: code, quantity: 1 })) },
  });
  const working = normaliseJob(job);
  return circuitsOf(askedLooms(working), new Map(working.parts.map((part) => [part.code, part])));
};
const sets = (...looms: Partial<LoomInput>[]) =>
  circuits(...looms).all.map(({ wires }) =>
    wires.map(({ asked, wire: { id } }) => `${asked.loom.code}/${id}`),
  );

describe('wires are one circuit', () => {
  test('through a shared terminal, and not through another of the same word at another point', () => {
    const points = [point('A', 'device'), point('B', 'device')];
    const wires = [link('1', 'A#x', 'B'), link('2', 'A#x', 'B'), link('3', 'B#x', 'A')];
    expect(sets({ points, wires })).toEqual([['l1/1', 'l1/2'], ['l1/3']]);
  });

  test('through one way of a connector or device, and not from way to way', () => {
    const points = [point('A', 'connector'), point('D', 'device')];
    const wires = [link('1', 'A.1', 'D.IN'), link('2', 'D.IN', 'A.2'), link('3', 'D.OUT', 'A.3')];
    expect(sets({ points, wires })).toEqual([['l1/1', 'l1/2'], ['l1/3']]);
  });

  test('at a stud and in a joint, whatever their ends say', () => {
    const points = ['A', 'B', 'C', 'D'].map((id) => point(id, 'flyingLead'));
    for (const kind of ['stud', 'joint'] as const)
      expect(
        sets({
          points: [...points, point('S', kind)],
          wires: [link('1', 'A', 'S'), link('2', 'S', 'B'), link('3', 'C', 'D')],
        }),
      ).toEqual([['l1/1', 'l1/2'], ['l1/3']]);
  });

  test('in a joint made at a breakout, and not where they only pass by', () => {
    const points = [point('K', 'breakout'), point('A', 'flyingLead')];
    const jointed = { point: 'K', join: 'joint' as const };
    expect(
      sets({
        points,
        wires: [
          wire('1', { from: jointed, to: bare('A') }),
          wire('2', { from: jointed, to: bare('A') }),
          link('3', 'K', 'A'),
        ],
      }),
    ).toEqual([['l1/1', 'l1/2'], ['l1/3']]);
  });

  test('in a joiner; in a block of several rows by row', () => {
    const points = [point('J', 'joiner'), point('A', 'flyingLead')];
    expect(sets({ points, wires: [link('1', 'A', 'J'), link('2', 'A', 'J')] })).toEqual([['l1/1', 'l1/2']]);
    expect(
      sets({ points, wires: [link('1', 'A', 'J.1'), link('2', 'A', 'J.2'), link('3', 'A', 'J.1')] }),
    ).toEqual([['l1/1', 'l1/3'], ['l1/2']]);
  });

  test('through halves that are plugged together, way for way, in one loom or in two', () => {
    const half = (mate?: object) => point('P', 'connector', mate ? { matedTo: mate } : {});
    const one = {
      points: [half(), point('A', 'flyingLead')],
      wires: [link('1', 'P.1', 'A'), link('2', 'P.2', 'A')],
    };
    const two = {
      points: [half({ loom: 'l1', point: 'P' }), point('A', 'flyingLead')],
      wires: [link('1', 'P.2', 'A'), link('2', 'P.3', 'A')],
    };
    expect(sets(one, two)).toEqual([['l1/1'], ['l1/2', 'l2/1'], ['l2/2']]);
    expect(
      sets({
        points: [
          point('P', 'connector'),
          point('Q', 'connector', { matedTo: { point: 'P' } }),
          point('A', 'flyingLead'),
        ],
        wires: [link('1', 'P.1', 'A'), link('2', 'Q.1', 'A')],
      }),
    ).toEqual([['l1/1', 'l1/2']]);
  });

  test('at a point that the other loom brings, and not at one of the same name of its own', () => {
    const main = { points: [point('J', 'joiner'), point('A', 'flyingLead')], wires: [link('1', 'J', 'A')] };
    const rear = (more: object) => ({
      points: [point('J', 'joiner', more), point('A', 'flyingLead')],
      wires: [link('1', 'J', 'A')],
    });
    expect(sets(main, rear({ suppliedByLoom: 'l1' }))).toEqual([['l1/1', 'l2/1']]);
    expect(sets(main, rear({}))).toEqual([['l1/1'], ['l2/1']]);
  });

  test('and circuits of one stated name have one number, while they stay two', () => {
    const points = [point('A', 'flyingLead'), point('D', 'device')];
    const named = circuits({
      points,
      wires: [
        link('1', 'A', 'D.IN', { circuit: 'tail' }),
        link('2', 'D.OUT', 'A', { circuit: 'tail' }),
        link('3', 'A', 'D.X'),
      ],
    });
    expect(named.all).toHaveLength(3);
    expect(named.of('l1', '1').group).toBe(named.of('l1', '2').group);
    expect(named.of('l1', '3').group).not.toBe(named.of('l1', '1').group);
  });
});

test('every wire is in one circuit, the same as a walk from wire to wire finds', () => {
  const ends = fc.constantFrom('A.1', 'A.2', 'A#s', 'J', 'S', 'K', 'F');
  const points = [
    point('A', 'connector'),
    point('J', 'joiner'),
    point('S', 'stud'),
    point('K', 'joint'),
    point('F', 'flyingLead'),
  ];
  fc.assert(
    fc.property(fc.array(fc.tuple(ends, ends), { minLength: 1, maxLength: 12 }), (pairs) => {
      const wires = pairs.map(([from, to], at) => link(`w${String(at).padStart(2, '0')}`, from, to));
      const found = sets({ points, wires });
      // A flying lead joins nothing; every other end joins the ends that read the same.
      const touch = (a: number, b: number) =>
        pairs[a]?.some((text) => text !== 'F' && pairs[b]?.includes(text)) ?? false;
      const reached = pairs.map((_pair, start) => {
        const seen = new Set([start]);
        for (const at of seen) pairs.forEach((_other, next) => touch(at, next) && seen.add(next));
        return [...seen].sort((a, b) => a - b).map((at) => `l1/w${String(at).padStart(2, '0')}`);
      });
      const expected = [...new Set(reached.map((wires) => JSON.stringify(wires)))].sort();
      expect(found.map((wires) => JSON.stringify(wires)).sort()).toEqual(expected);
    }),
  );
});
