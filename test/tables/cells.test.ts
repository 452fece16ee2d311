import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bare, dayIn, guarded, numberIn, spaced, unspaced, yesNoIn } from '../../worker/tables/cells.ts';

/** Text made of what could be mistaken for something else. */
const awkward = fc
  .array(fc.constantFrom("'", '=', '+', '-', '@', '#', '\t', '\r', ' ', '1', '.', 'a', '＝', '{'), {
    maxLength: 6,
  })
  .map((parts) => parts.join(''));

describe('a text in a cell', () => {
  test('is read back as it was', () => {
    fc.assert(fc.property(fc.oneof(awkward, fc.string()), (text) => bare(guarded(text)) === text));
  });

  test('is never taken for a formula, unless it is a plain number', () => {
    fc.assert(
      fc.property(awkward, (text) => {
        const cell = guarded(text);
        if (/^\s*[=+\-@＝]/u.test(cell)) expect(cell).toMatch(/^-?\d+(\.\d+)?$/);
      }),
    );
    expect(guarded('=1+1')).toBe("'=1+1");
    expect(guarded('-5')).toBe('-5');
  });

  test('as a person typed it loses the white space around it and nothing else', () => {
    expect(bare('  ring-6 ')).toBe('ring-6');
    expect(bare("'t was so")).toBe("'t was so");
  });
});

test('words of the model are written with spaces, and read with or without, whatever the capitals', () => {
  for (const [word, text] of [
    ['tipToTip', 'tip to tip'],
    ['iec60757', 'iec60757'],
    ['bsAu7', 'bs au7'],
    ['pvc', 'pvc'],
  ] as const) {
    expect(spaced(word)).toBe(text);
    expect(unspaced(text)).toBe(word);
  }
  for (const text of ['Tip-to-tip', 'TIP TO TIP', 'tipToTip', ' tip_to  tip'])
    expect(unspaced(text)).toBe('tipToTip');
  expect(unspaced('BS AU 7')).toBe('bsAu7');
  expect(unspaced('PVC')).toBe('pvc');
});

describe('a number', () => {
  const read = (text: string, decimalComma = false, unit = 'mm') => numberIn(text, { unit, decimalComma });
  const todo = (text: string, decimalComma = false) => {
    const found = read(text, decimalComma);
    return 'wrong' in found ? found.wrong.todo : found.value;
  };

  test('may have its unit after it, and of millimetres also m or cm', () => {
    for (const text of ['620', '620 mm', '620mm', '+620', '0.62 m', '62 cm', '620.0'])
      expect([text, read(text)]).toEqual([text, { value: 620 }]);
    expect('wrong' in read('620 kg')).toBe(true);
    expect('wrong' in read('1.2 m', false, 'A')).toBe(true);
  });

  test('with a decimal comma is read where the file has decimal commas, and with a point where it has not', () => {
    expect(read('1,5', true)).toEqual({ value: 1.5 });
    expect(read('1.5')).toEqual({ value: 1.5 });
    expect(todo('1,5')).toContain('Write 1.5.');
    expect(todo('1.5', true)).toBe('Write 1,5.');
  });

  test('that could be thousands or a fraction is refused with both readings', () => {
    expect(todo('1,200')).toBe('This can be 1200 or 1.200. Write the one that you mean.');
    expect(todo('1.200', true)).toBe('This can be 1200 or 1,200. Write the one that you mean.');
  });

  test('with separators between thousands is refused, with what to write', () => {
    for (const text of ['1,234,567.5', '1’234’567.5'])
      expect([text, todo(text)]).toEqual([text, expect.stringContaining('1234567.5')]);
    expect(todo('1 200')).toBe('Write 1200.');
  });

  test('that is none is told so', () => {
    for (const text of ['about 600', '1..2', '-', '1e'])
      expect([text, todo(text)]).toEqual([text, 'Write a number, such as 12 or 12 mm.']);
  });
});

test('yes and no are said in several ways; all else is refused', () => {
  for (const text of ['yes', 'Y', 'TRUE', 'x', '1']) expect(yesNoIn(text)).toEqual({ value: true });
  for (const text of ['no', 'N', 'false', '0']) expect(yesNoIn(text)).toEqual({ value: false });
  expect('wrong' in yesNoIn('perhaps')).toBe(true);
});

test('a day is read where it has one reading; where it has two it is refused, with both', () => {
  const todo = (text: string) => {
    const found = dayIn(text);
    return 'wrong' in found ? found.wrong.todo : found.value;
  };
  expect(todo('2026-11-02')).toBe('2026-11-02');
  expect(todo('2.11.2026')).toBe('2026-11-02');
  expect(todo('02/11/2026')).toBe('This can be 2026-11-02 or 2026-02-11. Write the one that you mean.');
  for (const text of ['25/11/2026', '25.11.2026', '25-11-2026', '11/25/2026'])
    expect([text, todo(text)]).toEqual([text, '2026-11-25']);
  expect(todo('11/11/2026')).toBe('2026-11-11');
  expect(todo('25/13/2026')).toBe('Write the day as 2026-11-02.');
});
