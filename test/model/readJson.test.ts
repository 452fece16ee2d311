import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readJson } from '../../worker/engine/model/readJson.ts';
import { MOST_FINDINGS } from '../../worker/engine/model/mostFindings.ts';
import { scanJson } from '../../worker/engine/model/jsonScan.ts';

const ANY = { depth: 1_000_000, values: 1_000_000_000 };
const findingsOf = (text: string, limits = { depth: 40, values: 1000 }) => {
  const read = readJson(text, limits);
  return 'findings' in read ? read.findings : [];
};

function parse(text: string): { value: unknown } | undefined {
  try {
    return { value: JSON.parse(text) as unknown };
  } catch {
    return undefined;
  }
}

/** JSON written with white space and escapes anywhere, so that one key is written in many ways; keys may stand twice. */
const { json } = fc.letrec<{ json: { text: string; values: number; depth: number; twice: boolean } }>(
  (tie) => {
    const space = fc.constantFrom('', '', ' ', '\n', '\t\r ');
    const key = fc.constantFrom('a', 'b', '', '__proto__', 'ä', '"', '\\', 'constructor');
    const written = fc.tuple(key, fc.boolean()).map(([name, escape]) => ({
      name,
      text: escape
        ? `"${[...name].map((each) => `\\u${each.charCodeAt(0).toString(16).padStart(4, '0')}`).join('')}"`
        : JSON.stringify(name),
    }));
    const scalar = fc
      .oneof(
        fc
          .string({ unit: 'grapheme', maxLength: 4 })
          .filter((text) => !/[\p{Bidi_Control}\p{Cc}]/u.test(text)),
        fc.constantFrom('{', ']', '\\"', ',', ':'),
        fc.integer(),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.boolean(),
        fc.constant(null),
      )
      .map((value) => ({ text: JSON.stringify(value), values: 1, depth: 0, twice: false }));
    const joined = (items: { text: string; values: number; depth: number; twice: boolean }[]) => ({
      values: items.reduce((sum, each) => sum + each.values, 1),
      depth: items.reduce((most, each) => Math.max(most, each.depth), 0) + 1,
      twice: items.some((each) => each.twice),
    });
    return {
      json: fc.oneof(
        { maxDepth: 4 },
        scalar,
        fc.tuple(space, fc.array(tie('json'), { maxLength: 4 })).map(([gap, items]) => ({
          ...joined(items),
          text: `[${gap}${items.map(({ text }) => text).join(`${gap},`)}${gap}]`,
        })),
        fc
          .tuple(space, fc.array(fc.tuple(written, tie('json')), { maxLength: 16 }))
          .map(([gap, entries]) => ({
            ...joined(entries.map(([, item]) => item)),
            twice:
              entries.some(([, item]) => item.twice) ||
              new Set(entries.map(([{ name }]) => name)).size < entries.length,
            text: `{${gap}${entries.map(([{ text }, item]) => `${text}${gap}:${gap}${item.text}`).join(`,${gap}`)}${gap}}`,
          })),
      ),
    };
  },
);

test('what is read is what JSON.parse reads, unless a key stands twice', () => {
  fc.assert(
    fc.property(json, ({ text, twice, values, depth }) => {
      const read = readJson(text, ANY);
      if (twice) {
        const codes = 'findings' in read ? read.findings.map(({ code }) => code) : [];
        expect(new Set(codes)).toEqual(new Set(['duplicate-key']));
      } else expect(read).toEqual(parse(text));
      // The limits are those that the text comes to, and not one less.
      expect(scanJson(text, { depth, values }, 1).found).toBe(twice ? 'duplicates' : 'fit');
      expect(scanJson(text, { depth, values: values - 1 }, 1).found).toBe('tooMany');
      if (depth > 0) expect(scanJson(text, { depth: depth - 1, values }, 1).found).toBe('tooDeep');
    }),
  );
});

test('a text with one character changed is judged as JSON.parse judges it', () => {
  const odd = fc.constantFrom(
    '',
    '"',
    '\\',
    ',',
    ':',
    '{',
    '}',
    '[',
    ']',
    ' ',
    '\u00a0',
    '1',
    '-',
    'e',
    '\n',
    'tru',
  );
  fc.assert(
    fc.property(json, fc.nat(), odd, ({ text }, seed, put) => {
      const at = seed % (text.length + 1);
      const changed = `${text.slice(0, at)}${put}${text.slice(at + 1)}`;
      const judged = parse(changed);
      const read = readJson(changed, ANY);
      expect('value' in read || 'findings' in read).toBe(judged !== undefined);
      if ('value' in read) expect(read).toEqual(judged);
    }),
    { numRuns: 500 },
  );
});

test('a key that stands twice is told with its line, its column and its pointer, however it is written', () => {
  expect(findingsOf('{"a": [{}, {\n  "k/~": 1, "x": {"y": 2},\n  "k\\u002f~": 3}]}')).toMatchObject([
    {
      code: 'duplicate-key',
      at: '/a/1/k~1~0',
      where: 'line 3, column 3',
      found: expect.stringContaining('"k/~"') as string,
    },
  ]);
  expect(findingsOf('{"__proto__": 1, "\\u005f_proto__": 2}')).toMatchObject([{ at: '/__proto__' }]);
  // Told apart from the same key in another object.
  expect(findingsOf('[{"a":1},{"a":2},{"b":{"a":3},"a":4}]')).toEqual([]);
});

test('of many keys that stand twice the first are told, and how many more', () => {
  const twice = findingsOf(`{"k":0${',"k":0'.repeat(500)}}`);
  expect(twice).toHaveLength(MOST_FINDINGS + 1);
  expect(twice.at(-1)).toMatchObject({ code: 'too-many-faults', found: `and ${500 - MOST_FINDINGS} more` });
});

test('an own key __proto__ is a key like others, and changes no object', () => {
  const read = readJson('{"__proto__":{"admin":true}}', ANY);
  const value = 'value' in read ? (read.value as object) : {};
  expect(Object.keys(value)).toEqual(['__proto__']);
  expect('admin' in value).toBe(false);
});

test('the place beyond a limit is told', () => {
  expect(findingsOf('{"a":[[1,\n [2]]]}', { depth: 3, values: 99 })).toMatchObject([
    { code: 'too-deep', at: '/a/0/1', where: 'line 2, column 2' },
  ]);
  expect(readJson('[1,2,\n3]', { depth: 9, values: 3 })).toEqual({
    tooMany: { line: 2, column: 1, most: 3 },
  });
});

test.each([
  ['a control of direction', '\u202e'],
  ['an isolate', '\u2066'],
  ['a mark of direction', '\u200f'],
  ['the Arabic letter mark', '\u061c'],
  ['an escape of a terminal', '\u001b'],
  ['a control of C1', '\u009b'],
  ['a backspace', '\b'],
])(
  '%s is refused in a text and in a key, as it is and as an escape, and is never printed as it is',
  (_what, character) => {
    const escape = `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
    const name = escape.slice(2).toUpperCase();
    // JSON itself allows no raw C0.
    for (const written of character < ' ' ? [escape] : [character, escape]) {
      const told = findingsOf(`{"a":["x${written}y"],"k${written}":{"b":"${written}"}}`);
      expect(told.map(({ code, at }) => [code, at])).toEqual([
        ['hidden-character', '/a/0'],
        ['hidden-character', `/k${character}`],
      ]);
      for (const { found, where, todo } of told) {
        expect(`${found}${todo}`).toContain(`U+${name}`);
        expect(`${where}${found}${todo}`).not.toContain(character);
      }
    }
  },
);

test('texts in Hebrew and Arabic, tabs and line ends are taken as they are', () => {
  const value = {
    name: 'רתמת חיווט',
    vehicle: 'ضفيرة أسلاك 12 V',
    note: 'a\tb\r\nc',
    joined: 'نمی\u200cخواهم',
  };
  expect(readJson(JSON.stringify(value), ANY)).toEqual({ value });
});
