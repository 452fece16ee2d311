import { expect, test } from 'vitest';
import { orderListText } from '../../worker/sheets/orderList.ts';
import fc from 'fast-check';
import { disarmed, rearmed } from '../../worker/sheets/csvCells.ts';
import { orderListCsv } from '../../worker/sheets/orderListCsv.ts';
import { gbp, metreLine, orderList, packLine } from './sample.ts';

const rows = (csv: string) => csv.trimEnd().split('\r\n').slice(1);

test('an order list says metres and the supplier’s own packs, prices and codes', () => {
  const text = orderListText(orderList([metreLine(1), packLine(2)]));
  expect(text).toContain('Order list: Ash Wire & Terminal');
  expect(text).toMatch(/\[ \] {2}1 {2}TW-R .*red .*12\.5 m in one length .*0\.385 a metre .*4\.81/);
  expect(text).toMatch(/\[ \] {2}2 .*Ring terminal .*3 packs of 10 .*1\.20 a pack .*3\.60/);
});

test('an order list shows none of our own codes, and no millimetres', () => {
  const list = orderList([metreLine(1), packLine(2)]);
  for (const sheet of [orderListText(list), orderListCsv(list)])
    expect(sheet).not.toMatch(/internal|wire:x|part:x|12500/);
});

test('packs of one piece are pieces', () => {
  const single = packLine(1, {
    bought: { form: 'pack', packs: 1, packCount: 1, pieces: 1, packPrice: gbp('0.20') },
  });
  expect(orderListText(orderList([single]))).toMatch(/1 piece +0\.20 each/);
});

test('a condition other than new is said, new is not', () => {
  expect(orderListText(orderList([packLine(1, { condition: 'oldStock' })]))).toContain(
    'Ring terminal (old stock)',
  );
  expect(orderListText(orderList([packLine(1)]))).not.toContain('new');
});

test('the days on which prices were seen are said once, from first to last', () => {
  const seen = (...days: string[]) =>
    orderListText(orderList(days.map((seenOn, index) => packLine(index + 1, { seenOn }))));
  expect(seen('2026-02-03', '2026-01-02')).toContain('Prices seen from 2026-01-02 to 2026-02-03');
  expect(seen('2026-02-03', '2026-02-03')).toContain('Prices seen on 2026-02-03');
  expect(orderListText(orderList([packLine(1)]))).not.toContain('Prices seen');
});

test('rounding is a line of its own, and none where there is none', () => {
  expect(orderListText(orderList([packLine(1)]))).toMatch(/Rounding +-0\.01\n/);
  const even = orderList([packLine(1)], { rounding: gbp('0.00') });
  expect(orderListText(even)).not.toContain('Rounding');
  expect(orderListCsv(even)).not.toContain('Rounding');
});

test('in the CSV the cost column sums to the total: lines, postage and rounding', () => {
  const csv = orderListCsv(orderList([metreLine(1), packLine(2)]));
  const costs = rows(csv).map((row) => Number(row.split(',')[10]) * 100);
  expect(Math.round(costs.reduce((sum, cost) => sum + cost, 0))).toBe(1090);
  expect(csv).toContain(',,Rounding,,,,,,,,-0.01,GBP,,,');
});

test('the CSV has the same number of fields in every row and ends its lines as RFC 4180 says', () => {
  const csv = orderListCsv(orderList([metreLine(1), packLine(2)]));
  expect(csv.endsWith('\r\n')).toBe(true);
  const widths = csv
    .trimEnd()
    .split('\r\n')
    .map((row) => row.split(',').length);
  expect(new Set(widths)).toEqual(new Set([15]));
});

test('a field with a comma or a quote is quoted as RFC 4180 says', () => {
  const csv = orderListCsv(orderList([packLine(1, { description: 'Ring, 6" stud' })]));
  expect(csv).toContain(',"Ring, 6"" stud",');
});

// What a spreadsheet takes for a formula: the list of the OWASP page "CSV Injection".
test.each(['=1+1', '+1', '-1+1', '@SUM(A1)'])(
  'text that a spreadsheet would take for a formula is disarmed: %s',
  (text) => {
    const csv = orderListCsv(orderList([packLine(1, { description: text, supplierCode: text })]));
    expect(rows(csv)[0]).toMatch(new RegExp(`^1,'${text.replace(/[+()]/g, '\\$&')},'`));
  },
);

// IEC 60757 joins red and blue to RDBU, whichever is the base.
test('letters stand beside the words that say which colour is the base', () => {
  const words = ['red with blue tracer', 'blue with red tracer'];
  const list = orderList(words.map((colour, at) => metreLine(at + 1, { colour, colourLetters: 'RDBU' })));
  for (const colour of words) {
    expect(orderListText(list).replaceAll(/\s+/g, ' ')).toContain(`${colour} (RDBU)`);
    expect(orderListCsv(list)).toContain(`,${colour},RDBU,`);
  }
});

test('control characters in what was typed cannot break a line or reach a terminal', () => {
  const list = orderList([packLine(1, { description: 'Ring\nline 2\u001b[2Jend' })], { name: 'Ash\r\nWire' });
  expect(orderListText(list)).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
  expect(orderListText(list)).toContain('Order list: Ash Wire\n');
  expect(rows(orderListCsv(list))[0]).toContain('Ring line 2 [2Jend');
});

test('what disarming put before a text, reading takes away again, and nothing else; numbers stay numbers', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect(rearmed(disarmed(text))).toBe(text);
    }),
  );
  fc.assert(
    fc.property(fc.constantFrom('=', '+', '-', '@', "'", "'="), fc.string(), (first, rest) => {
      expect(rearmed(disarmed(first + rest))).toBe(first + rest);
    }),
  );
  for (const number of ['-0.01', '12', '-3']) expect(disarmed(number)).toBe(number);
  expect(disarmed('=1')).toBe("'=1");
});
