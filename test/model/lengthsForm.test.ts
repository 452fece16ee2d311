import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isWrong } from '../../worker/engine/model/short/form.ts';
import { lengthsForm, lengthsShort } from '../../worker/engine/model/short/lengthsForm.ts';

const read = (text: string, decimalComma = false) => lengthsForm.read(text, { decimalComma });

test('lengths are read back from the one text that they are written as', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 1, max: 10_000_000 }), { minLength: 1 }),
      fc.boolean(),
      (lengths, comma) => {
        expect(read(lengthsShort(lengths, { decimalComma: comma }), comma)).toEqual({ value: lengths });
      },
    ),
  );
});

test.each([
  ['3200 1800', [3200, 1800]],
  ['3200; 1800', [3200, 1800]],
  ['3200, 1800', [3200, 1800]],
  ['3200', [3200]],
  ['3.2 m 1.8 m', [3200, 1800]],
  ['3.2m; 80 cm, 5 mm', undefined],
  ['3.2m; 80 cm; 5 mm', [3200, 800, 5]],
])('%s is read as %j', (text, lengths) => {
  const reading = read(text);
  expect(isWrong(reading) ? undefined : reading.value).toEqual(lengths);
});

test('with decimal commas a comma is part of a number', () => {
  expect(read('3,2 m; 1,8 m', true)).toEqual({ value: [3200, 1800] });
});

test.each(['1,800', '3 200 1800', '3,2 m', '600 400', '3200, 1,800'])(
  '%s could be one length or two, so it is refused with how to write it',
  (text) => {
    const reading = read(text);
    expect(isWrong(reading) && reading.todo).toContain('can be one length or two');
  },
);

test.each(['long', '3200 x', '-5', '3200,', 'm'])('%s is no list of lengths', (text) => {
  expect(isWrong(read(text))).toBe(true);
});
