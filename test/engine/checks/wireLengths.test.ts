import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { bare, jobOf, points, wire } from '../fixtures.ts';
import { foundIn, type WireInput } from './told.ts';

type LoomInput = Partial<JobInput['looms'][number]>;

/** Each in ways of its own, so that none is another entered twice. */
const long = (id: string, from: string, to: string, mm: number, more: Partial<WireInput> = {}) =>
  wire(id, {
    from: { ...bare(from), way: id },
    to: { ...bare(to), way: id },
    length: { mm, basis: 'route' },
    ...more,
  });
const POINTS = ['A', 'B', 'C', 'D', ...Array.from({ length: 12 }, (_, at) => `P${at}`)];
const found = (wires: WireInput[], loom: LoomInput = {}) =>
  foundIn(jobOf({ loom: { points: points(...POINTS), wires, ...loom } }), 'wire-length-doubtful');
const told = (...of: Parameters<typeof found>) => found(...of).map(({ subject }) => subject);

describe('of two wires between the same points', () => {
  test('one that is ten times the other is told, and nine times is not', () => {
    expect(told([long('1', 'A', 'B', 1500), long('2', 'B', 'A', 15_000)])).toEqual(['wire:2']);
    expect(told([long('1', 'A', 'B', 15_000), long('2', 'A', 'B', 1500)])).toEqual(['wire:1']);
    expect(told([long('1', 'A', 'B', 1500), long('2', 'A', 'B', 14_999)])).toEqual([]);
    expect(told([long('1', 'A', 'B', 1500), long('2', 'A', 'C', 15_000)])).toEqual([]);
  });

  test('the finding names both, and says what would go with the rest', () => {
    expect(found([long('1', 'A', 'B', 1500), long('2', 'A', 'B', 15_500)])).toMatchObject([
      {
        severity: 'warning',
        at: '/looms/0/wires/1/length/mm',
        found: '15500 mm from A to B; wire 1 has 1500 mm',
        limit:
          'more than 150 and less than 15000 mm: less than ten times the other, and more than a tenth of it',
        source: 'common practice, no source',
      },
    ]);
  });
});

describe('of more wires between the same points', () => {
  const others = [1400, 1500, 1650].map((mm, at) => long(`${at}`, 'A', 'B', mm));

  test('the one with a nought too many or too few is told', () => {
    expect(told([...others, long('x', 'B', 'A', 15_000)])).toEqual(['wire:x']);
    expect(told([...others, long('x', 'A', 'B', 150)])).toEqual(['wire:x']);
    expect(told([...others, long('x', 'A', 'B', 160)])).toEqual([]);
    expect(told([...others.slice(1), long('x', 'A', 'B', 150)])).toEqual(['wire:x']);
  });

  test('those whose length is along branches are what others are held to, and are told themselves as differing from their way', () => {
    const branches = [{ id: 'b', from: 'A', to: 'B', lengthMm: 1500 }];
    expect(told([long('1', 'A', 'B', 15_000), long('2', 'A', 'B', 1500)], { branches })).toEqual([]);
  });

  test('a resistor wire or fusible link is as long as its function asks, and not compared', () => {
    expect(told([long('1', 'A', 'B', 1500), long('2', 'A', 'B', 90, { function: { fixedMm: 90 } })])).toEqual(
      [],
    );
  });
});

describe('a wire beside which nothing else runs', () => {
  /** Wires of 2000 to 3100 mm elsewhere; 600 mm at A, 900 mm at B. */
  const rest = [
    ...Array.from({ length: 12 }, (_, at) => long(`r${at}`, `P${at}`, `P${(at + 1) % 12}`, 2000 + 100 * at)),
    long('a', 'A', 'C', 600),
    long('b', 'B', 'D', 900),
  ];

  // Twice 600 + 900 is 3000; half as much again as 3100 is 4650.
  test('is told where it is longer than twice the longest others at its ends together, and than half as much again as any other', () => {
    expect(told([...rest, long('x', 'A', 'B', 4650)])).toEqual([]);
    expect(told([...rest, long('x', 'A', 'B', 4651)])).toEqual(['wire:x']);
    expect(told([...rest, long('b2', 'B', 'D', 2000), long('x', 'A', 'B', 5200)])).toEqual([]);
    expect(told([...rest, long('b2', 'B', 'D', 2000), long('x', 'A', 'B', 5201)])).toEqual(['wire:x']);
  });

  // The longest other wire has 3100 mm.
  test('that alone comes to a point is told where it is longer than twice any other', () => {
    const withoutB = rest.filter(({ id }) => id !== 'b');
    expect(told([...withoutB, long('x', 'A', 'B', 6200)])).toEqual([]);
    expect(told([...withoutB, long('x', 'A', 'B', 6201)])).toEqual(['wire:x']);
  });

  test('is not told where another of its length runs elsewhere, or in a loom of few wires', () => {
    expect(told([...rest, long('x', 'A', 'P0', 90_000), long('y', 'A', 'P1', 90_000)])).toEqual([]);
    expect(told([...rest.slice(-2), long('x', 'A', 'B', 90_000)])).toEqual([]);
  });
});

test('a loom in which no length is ten times another has nothing told, however it is laid out', () => {
  const wires = fc.array(
    fc.record({
      from: fc.constantFrom('A', 'B', 'C'),
      to: fc.constantFrom('A', 'B', 'C'),
      mm: fc.integer({ min: 1000, max: 1499 }),
    }),
    { minLength: 1, maxLength: 30 },
  );
  fc.assert(
    fc.property(wires, (given) => {
      expect(told(given.map(({ from, to, mm }, at) => long(`${at}`, from, to, mm)))).toEqual([]);
    }),
    { numRuns: 50 },
  );
});
