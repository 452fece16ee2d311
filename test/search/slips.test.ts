import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isOneSlip, lettersAndDigits, LONGEST_WORD, plainWords, withoutOne } from '../../db/search/fold.ts';
import { metBy, readingsOf } from '../../db/search/units.ts';

/** How many slips lead from one word to the other, by all ways there are: an exchange of two neighbours is one. */
function slipsBetween(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_row, i) =>
    Array.from({ length: b.length + 1 }, (_cell, j) => (i === 0 ? j : j === 0 ? i : Infinity)),
  );
  const at = (i: number, j: number) => rows[i]?.[j] ?? Infinity;
  for (let i = 1; i <= a.length; i++)
    for (let j = 1; j <= b.length; j++) {
      const row = rows[i] as number[];
      row[j] = Math.min(
        at(i - 1, j) + 1,
        at(i, j - 1) + 1,
        at(i - 1, j - 1) + (a[i - 1] === b[j - 1] ? 0 : 1),
        i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1] ? at(i - 2, j - 2) + 1 : Infinity,
      );
    }
  return at(a.length, b.length);
}

/** Few letters, so that words are often near each other. */
const word = (letters: string, minLength: number, maxLength: number) =>
  fc.array(fc.constantFrom(...letters), { minLength, maxLength }).map((all) => all.join(''));

/** Every word that one slip makes of this one, out of these letters. */
function everySlip(from: string, letters: string): string[] {
  const slips: string[] = [];
  for (let at = 0; at <= from.length; at++) {
    const [left, right] = [from.slice(0, at), from.slice(at)];
    for (const letter of letters) slips.push(`${left}${letter}${right}`, `${left}${letter}${right.slice(1)}`);
    slips.push(`${left}${right.slice(1)}`);
    if (right.length > 1) slips.push(`${left}${right[1] ?? ''}${right[0] ?? ''}${right.slice(2)}`);
  }
  return [...new Set(slips)].filter((slip) => slip !== from);
}

describe('one slip', () => {
  test('is found just where a full count of slips comes to one', () => {
    fc.assert(
      fc.property(word('abc', 0, 6), word('abc', 0, 6), (a, b) => {
        expect(isOneSlip(a, b)).toBe(slipsBetween(a, b) === 1);
      }),
      { numRuns: 3_000 },
    );
  });

  test('leaves a common text between two words when at most one letter of each is left out, so that it is looked up', () => {
    fc.assert(
      fc.property(word('abcd', 4, 7), (kept) => {
        const pieces = new Set([kept, ...withoutOne(kept)]);
        for (const asked of everySlip(kept, 'abcdz'))
          expect([asked, ...withoutOne(asked)].some((piece) => pieces.has(piece))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('of a word of 4 letters or more is met, whichever letter is too many, missing, another or exchanged', () => {
    fc.assert(
      fc.property(word('mnopq', 5, 8), (kept) => {
        const words = [{ word: kept, field: 'description' as const, weight: 6 }];
        for (const asked of everySlip(kept, 'mnopqz')) {
          const met = readingsOf(asked, new Map()).map((units) => metBy(units, words));
          expect([asked, met.some((each) => each !== undefined)]).toEqual([asked, true]);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('folding', () => {
  const text = fc.string({ unit: 'grapheme', maxLength: 60 });

  test('is the same when it is done again', () => {
    fc.assert(
      fc.property(text, (given) => {
        const once = lettersAndDigits(given);
        expect(lettersAndDigits(once)).toBe(once);
        expect([...once].length).toBeLessThanOrEqual(LONGEST_WORD);
        for (const each of plainWords(given)) expect(plainWords(each)).toEqual([each]);
      }),
      { numRuns: 2_000 },
    );
  });

  test('makes one number of all ways in which its figures are grouped', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...'0123456789ABCdef'), fc.constantFrom('', ' ', '-', '.', '/')), {
          minLength: 1,
          maxLength: LONGEST_WORD,
        }),
        (figures) => {
          const plain = figures.map(([figure]) => figure).join('');
          const grouped = figures.map(([figure, sign]) => `${figure}${sign}`).join('');
          expect(lettersAndDigits(grouped)).toBe(plain.toLowerCase());
          expect(lettersAndDigits(grouped.toUpperCase())).toBe(plain.toLowerCase());
        },
      ),
    );
  });

  test('takes accents and signs for plain letters and digits', () => {
    expect(plainWords('Öse 2,5 mm² – ÉLAN')).toEqual(['ose', '2', '5', 'mm2', 'elan']);
  });
});
