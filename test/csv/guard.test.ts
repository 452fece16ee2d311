import fc from 'fast-check';
import { expect, test } from 'vitest';
import { guarded, unguarded } from '../../worker/csv/guard.ts';

const read = (cell: string, also?: (bare: string) => boolean) => unguarded(cell, also) ?? cell;
const text = fc.oneof(
  fc.string({ unit: 'binary' }),
  fc.tuple(fc.constantFrom('=', '+', '-', '@', "'", "'=", '#'), fc.string()).map((both) => both.join('')),
);

test('what guarding puts before a text, reading takes away again, and nothing else', () => {
  const isNote = (bare: string) => bare.startsWith('#');
  fc.assert(fc.property(text, (given) => read(guarded(given)) === given));
  fc.assert(fc.property(text, (given) => read(guarded(given, isNote), isNote) === given));
});

test('numbers stay numbers, a formula becomes text, and what is guarded for another reason is named', () => {
  for (const number of ['-0.01', '12', '-3']) expect(guarded(number)).toBe(number);
  for (const formula of ['=1', '+1', '-1+1', '@SUM(A1)', '\t=1', '＝1'])
    expect(guarded(formula)).toBe(`'${formula}`);
  expect(guarded('#8 stud')).toBe('#8 stud');
  expect(guarded('#8 stud', (bare) => bare.startsWith('#'))).toBe("'#8 stud");
  expect(guarded("'t was so")).toBe("'t was so");
});
