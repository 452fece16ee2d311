import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { editDistance, nearestName } from '../../worker/engine/model/nearest.ts';

const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 6 });

/** By the recurrence that defines it, with nothing remembered. */
function defined(from: string, to: string): number {
  if (from === '' || to === '') return from.length + to.length;
  const exchanged = defined(from.slice(1), to.slice(1)) + (from[0] === to[0] ? 0 : 1);
  return Math.min(exchanged, defined(from.slice(1), to) + 1, defined(from, to.slice(1)) + 1);
}

describe('the edit distance', () => {
  // The example of Wagner and Fischer’s problem that textbooks give: kitten, sitten, sittin, sitting. From memory.
  test('of kitten and sitting is 3', () => expect(editDistance('kitten', 'sitting')).toBe(3));

  test('is what its recurrence defines', () =>
    fc.assert(fc.property(word, word, (from, to) => editDistance(from, to) === defined(from, to))));
});

describe('the nearest name', () => {
  test('is the one with the fewest letters changed, whatever its capitals', () => {
    expect(nearestName('my clbu', ['Your club', 'My club', 'Ours'])).toBe('My club');
    expect(nearestName('MY CLUB', ['My club', 'my clun'])).toBe('My club');
  });

  test('is none where there are no names', () => expect(nearestName('x', [])).toBeUndefined());

  test('is always one of the names, and none of them is nearer', () =>
    fc.assert(
      fc.property(word, fc.array(word, { minLength: 1 }), (typed, names) => {
        const nearest = nearestName(typed, names) ?? '?';
        expect(names).toContain(nearest);
        for (const name of names)
          expect(editDistance(typed, nearest)).toBeLessThanOrEqual(editDistance(typed, name));
      }),
    ));
});
