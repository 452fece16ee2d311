import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { codesMeant, didYouMean, withPartsMeant } from '../../worker/engine/model/didYouMean.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';

const CODES = [
  'ring-m6-2.5',
  'ring-m6-1.5',
  'ring-m6-0.5',
  'ring-m8-6',
  'ring-m6-10.0',
  'blade-6.3-male-1.5',
];

describe('the codes that can be meant', () => {
  test.each([
    ['a slip of the pen', 'blade-6.3-mael-1.5', ['blade-6.3-male-1.5']],
    ['capitals', 'RING-M8-6', ['ring-m8-6']],
    ['a code that is not finished, the three shortest', 'ring-m6', CODES.slice(0, 3).reverse()],
    ['a code of other words', 'grommet-12', []],
    ['a short code that shares nothing', 'ab', []],
  ])('by %s', (_what, typed, meant) => expect(codesMeant(typed, CODES)).toEqual(meant));

  const code = fc.string({ unit: fc.constantFrom('a', 'b', '-', '1'), minLength: 4, maxLength: 12 });
  test('have the right one among them, where a single character was left out and it alone is there', () =>
    fc.assert(
      fc.property(code, fc.nat(11), (right, at) => {
        const cut = at % right.length;
        expect(codesMeant(right.slice(0, cut) + right.slice(cut + 1), [right])).toEqual([right]);
      }),
    ));

  test('are asked for in one sentence', () => {
    expect(didYouMean([])).toBe('');
    expect(didYouMean(['a'])).toBe(' Did you mean a?');
    expect(didYouMean(['a', 'b', 'c'])).toBe(' Did you mean a, b or c?');
  });

  test('are added to faults of an unknown part alone, and are not read where there are none', () => {
    const fault = { severity: 'stop', at: '', where: '', found: '"ring-m8"', todo: 'Fix it.' } as const;
    const others: Finding[] = [
      { ...fault, code: 'unknown-supplier' },
      { ...fault, code: 'wrong-form' },
    ];
    const unread = () => {
      throw new Error('read');
    };
    expect(withPartsMeant(others, unread)).toEqual(others);
    const [first] = withPartsMeant([{ ...fault, code: 'unknown-part' }], () => CODES);
    expect(first?.todo).toBe('Fix it. Did you mean ring-m8-6?');
  });
});
