import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { importTable, type ImportOptions, type ImportSummary } from '../../worker/tables/importTable.ts';
import { tableOf } from '../../worker/tables/tables.ts';
import { bytesOf } from './bytes.ts';

const rates = (text: string | Uint8Array, options: ImportOptions = {}, size?: number) =>
  importTable({ table: tableOf('rates'), bytes: bytesOf(text, size), options });
const HEAD = 'code,currency,on,rate,note\n';
const row = (code: string, note = '') => `${code},EUR,2026-11-02,0.85,${note}`;
const good = ({ new: count }: ImportSummary) => count;
const told = ({ file, rows }: ImportSummary) =>
  [...file, ...rows.flatMap(({ faults = [] }) => faults)].map(({ code, where }) => `${where}: ${code}`);

describe('a file', () => {
  test.each([
    ['with commas', ','],
    ['with semicolons', ';'],
    ['with tabs', '\t'],
  ])('%s is told from its first line', async (_what, separator) => {
    expect(good(await rates(`${HEAD}${row('a')}\n`.replaceAll(',', separator)))).toBe(1);
  });

  test('may say its separator in a line of its own, as spreadsheets write it', async () => {
    const summary = await rates(`sep=;\n${HEAD}bad\n`.replaceAll(',', ';'));
    expect(told(summary)[0]).toBe('rates.csv, row 3: ragged-row');
  });

  test.each(['\r\n', '\n', '\r'])('has lines that end with %j, the last one or not', async (end) => {
    const text = `${HEAD}${row('a')}\n${row('b')}`.replaceAll('\n', end);
    expect([good(await rates(text)), good(await rates(text + end))]).toEqual([2, 2]);
  });

  test('is the same however it is cut into pieces', async () => {
    const text = `\uFEFF# note\r\n${HEAD}${row('a', '"ü\r\n""x"""')}\r\n\r\n${row('b')},more\r\n${row('c')}\r\n`;
    const whole = await rates(text);
    expect(whole).toMatchObject({ new: 2, faults: 1 });
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 40 }), async (size) => {
        expect(await rates(text, {}, size)).toEqual(whole);
      }),
    );
  });

  test('has rows counted as a spreadsheet does: blank rows and notes count, a cell of two lines does not', async () => {
    const summary = await rates(
      `# all rates\n\n${HEAD}${row('a', '"two\nlines"')}\n,,,,\n#,,,,\nb,EUR,2026-11-02,x,\n`,
    );
    expect(good(summary)).toBe(1);
    expect(told(summary)).toEqual(['rates.csv, row 7, column rate: not-a-number']);
  });

  test('in UTF-16 with its mark is read; in another encoding it is refused, with the line and what to do', async () => {
    const text = `${HEAD}${row('a', 'ü')}\n`;
    const little = Buffer.from(`\uFEFF${text}`, 'utf16le');
    expect(good(await rates(little))).toBe(1);
    expect(good(await rates(Buffer.from(little).swap16()))).toBe(1);
    const latin = await rates(Buffer.from(`${HEAD}${row('a')}\n${row('b', 'ü')}\n${row('c')}\n`, 'latin1'));
    expect(latin).toMatchObject({ new: 1, complete: false });
    expect(latin.file[0]).toMatchObject({
      code: 'wrong-encoding',
      found: 'bytes in line 3 that are no UTF-8',
    });
    expect(latin.file[0]?.todo).toContain('CSV UTF-8');
    expect(told(await rates(Buffer.from(text, 'utf16le')))).toEqual(['rates.csv, row 1: wrong-encoding']);
  });

  test.each([
    ['that is empty', ''],
    ['of blank lines', '\n,,\n'],
    ['of notes alone', '# a note\n'],
  ])('%s is told to need column names', async (_what, text) => {
    expect(told(await rates(text))).toEqual(['rates.csv: empty-file']);
  });

  test('with column names alone has nothing in it and nothing to fix', async () => {
    expect(await rates(HEAD)).toMatchObject({ new: 0, faults: 0, file: [], complete: true });
  });
});

describe('column names', () => {
  test('stand in any order, in capitals or not, with spaces or not, by other names too', async () => {
    expect(good(await rates('Rate,DATE,code,Currency\n0.85,2026-11-02,a,EUR\n'))).toBe(1);
    const offers = 'code,Supplier,Sold  By,price,PIECES_IN_A_PACK,part\na,s,pack,0.40 GBP,10,p\n';
    expect(good(await importTable({ table: tableOf('offers'), bytes: bytesOf(offers) }))).toBe(1);
  });

  test('that are unknown are told with the nearest known one, that stand twice are refused', async () => {
    const summary = await rates('code,currrency,on,rate,colour of the sky\n');
    expect(told(summary)).toEqual([
      'rates.csv, row 1, column currrency: unknown-column',
      'rates.csv, row 1, column colour of the sky: unknown-column',
    ]);
    expect(summary.file[0]?.todo).toContain('“currency”');
    expect(told(await rates('code,currency,on,Day,rate\n'))).toEqual([
      'rates.csv, row 1, column on: duplicate-column',
    ]);
  });

  test('that are missing are named, with what they are for', async () => {
    const summary = await rates('code,rate\na,1\n');
    expect(told(summary)).toEqual([
      'rates.csv, row 1, column currency: missing-column',
      'rates.csv, row 1, column on: missing-column',
    ]);
  });
});

describe('a row', () => {
  test('with too many or too few cells, with a NUL or with a quote inside a cell is told alone; the others are kept', async () => {
    const summary = await rates(
      `${HEAD}${row('a')}\nb,EUR\n${row('c')},more\n${row('d\0')}\n${row('e', '1/4" stud')}\n${row('g')}\n`,
    );
    expect(good(summary)).toBe(2);
    expect(told(summary).toSorted()).toEqual([
      'rates.csv, row 3: ragged-row',
      'rates.csv, row 4: ragged-row',
      'rates.csv, row 5: nul-character',
      'rates.csv, row 6: quote-inside',
    ]);
  });

  test('with text after the quote that ends a cell ends the reading', async () => {
    const summary = await rates(`${HEAD}${row('a')}\n${row('b', '"x"y')}\n${row('c')}\n`);
    expect([good(summary), summary.complete, told(summary)]).toEqual([
      1,
      false,
      ['rates.csv, row 3: quote-inside'],
    ]);
  });

  test('whose quote is not closed ends the reading: what came before is kept', async () => {
    const summary = await rates(`${HEAD}${row('a')}\n${row('b', '"never')}\n${row('c')}\n`);
    expect(summary).toMatchObject({ new: 1, complete: false });
    expect(told(summary)).toEqual(['rates.csv, row 3: quote-not-closed']);
  });

  test('with a cell that a spreadsheet would work out as a formula is read as its text', async () => {
    const seen: unknown[] = [];
    await importTable({
      table: tableOf('rates'),
      bytes: bytesOf(`${HEAD}${row('a', "'=1+1")}\n${row('b', '=2+2')}\n`),
      write: async (things) => void seen.push(...things.map(({ thing }) => thing['note'])),
    });
    expect(seen).toEqual(['=1+1', '=2+2']);
  });
});

describe('a file without end', () => {
  /** 200 MB of one text, and how much of it was asked for. */
  function endless(text: string, first = '') {
    const chunk = Buffer.from(text.repeat(Math.ceil((1 << 16) / text.length)));
    const pulled = { bytes: 0 };
    const bytes = (async function* () {
      yield Buffer.from(first);
      for (; pulled.bytes < 200e6; pulled.bytes += chunk.length) yield chunk;
    })();
    return { bytes, pulled };
  }

  test.each([
    ['letters', 'x', HEAD],
    ['letters where the names should be', 'x', ''],
    ['separators', ',', HEAD],
    ['separators where the names should be', ',', ''],
    ['a cell in quotes', 'x\n', `${HEAD}"`],
    ['quotes', '"', HEAD],
  ])('of one line of %s is given up after a few MB', async (_what, text, first) => {
    const { bytes, pulled } = endless(text, first);
    const summary = await importTable({ table: tableOf('rates'), bytes });
    expect(summary).toMatchObject({ new: 0, complete: false });
    expect(told(summary)[0]).toMatch(/row-too-long$/);
    expect(pulled.bytes).toBeLessThan(4e6);
  });

  test('of a million columns, or of more rows than a job holds, is told which limit it breaks', async () => {
    expect(told(await rates(`${'a,'.repeat(400_000)}a\n`))).toEqual(['rates.csv, row 1: too-many-columns']);
    const { bytes } = endless(`${row('a')}\n`, HEAD);
    const summary = await importTable({ table: tableOf('rates'), bytes });
    expect(told({ ...summary, rows: [] })).toEqual(['rates.csv, row 10002: too-many-rows']);
  });
});
