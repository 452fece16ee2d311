import fc from 'fast-check';
import { expect, test } from 'vitest';
import { jsonFault } from '../../worker/engine/model/jsonFault.ts';

test.each([
  ['', 1, 1, 'the end of the file'],
  ['{"a": 1', 1, 8, 'the end of the file'],
  ['{"a": 1,}', 1, 9, '"}"'],
  ['[1, 2,]', 1, 7, '"]"'],
  ['{\n  "a": 1\n  "b": 2\n}', 3, 3, '"\\"b\\": 2"'],
  ['{"a" 1}', 1, 6, '"1}"'],
  ["{'a': 1}", 1, 2, '"\'a\': 1}"'],
  ['[01]', 1, 2, '"01]"'],
  ['[1.]', 1, 2, '"1.]"'],
  ['["a\nb"]', 1, 2, '"\\"a"'],
  ['[tru]', 1, 2, '"tru]"'],
  ['{} {}', 1, 4, '"{}"'],
  ['[1] // note', 1, 5, '"// note"'],
])('in %j the fault is at line %i, column %i: %s', (text, line, column, found) => {
  expect(jsonFault(text)).toEqual({ line, column, found });
});

test('deep nesting is read without running out of stack', () => {
  expect(jsonFault('['.repeat(200_000) + ']'.repeat(200_000))).toBeUndefined();
});

const parses = (text: string) => {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
};

test('it finds a fault where and only where JSON.parse does', () => {
  const pieces = [
    '{',
    '}',
    '[',
    ']',
    ',',
    ':',
    '"a"',
    '"',
    '1',
    '-',
    '0',
    '.5',
    'e3',
    'true',
    'nul',
    ' ',
    '\n',
    '\\',
    'x',
  ];
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...pieces), { maxLength: 12 }), (parts) => {
      const text = parts.join('');
      expect(jsonFault(text) === undefined).toBe(parses(text));
    }),
    { numRuns: 3000 },
  );
});

test('a document with one character taken out or doubled is judged as JSON.parse judges it', () => {
  fc.assert(
    fc.property(fc.json(), fc.nat(), fc.boolean(), (document, at, double) => {
      const place = at % document.length;
      const text = document.slice(0, place + (double ? 1 : 0)) + document.slice(place + (double ? 0 : 1));
      expect(jsonFault(text) === undefined).toBe(parses(text));
    }),
    { numRuns: 1000 },
  );
});
