import { expect, test } from 'vitest';
import { orderListText as sheetText } from '../../worker/sheets/orderList.ts';
import { orderListCsv } from '../../worker/sheets/orderListCsv.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';
import { gbp, metreLine, orderList, packLine } from './sample.ts';

const orderListText = (list: OrderList) => sheetText({ list, asOf: '2026-03-02' });
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');

const rows = (csv: string) => csv.trimEnd().split('\r\n').slice(1);

test('an order list says metres and the supplier’s own packs, prices and codes', () => {
  const text = orderListText(orderList([metreLine(1), packLine(2)]));
  expect(text).toContain('Order list: Ash Wire & Terminal');
  expect(text).toMatch(
    /\[ \] {2}1 {2}TW-R +Thin-wall wire, red .*12\.5 m, one continuous length .*0\.385 a metre .*4\.81/,
  );
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

test('our own rounding is not on an order list: its total is what its lines come to', () => {
  const list = orderList([metreLine(1), packLine(2)], { tax: gbp('1.20') });
  const text = orderListText(list);
  // 8.41 + 2.50 + 1.20; the quote pays 0.01 less, being rounded once.
  expect(text).toMatch(/Postage +2\.50\nTax +1\.20\nTotal, GBP +12\.11$/);
  const csv = orderListCsv(list);
  for (const sheet of [text, csv]) expect(sheet).not.toContain('Rounding');
  const costs = rows(csv).map((row) => Number(row.split(',')[10]) * 100);
  expect(Math.round(costs.reduce((sum, cost) => sum + cost, 0))).toBe(1211);
});

test('the CSV has the same number of fields in every row and ends its lines as RFC 4180 says', () => {
  const csv = orderListCsv(orderList([metreLine(1), packLine(2)]));
  expect(csv.endsWith('\r\n')).toBe(true);
  const widths = csv
    .trimEnd()
    .split('\r\n')
    .map((row) => row.split(',').length);
  expect(new Set(widths)).toEqual(new Set([16]));
});

test('a field with a comma or a quote is quoted as RFC 4180 says', () => {
  const csv = orderListCsv(orderList([packLine(1, { description: 'Ring, 6" stud' })]));
  expect(csv).toContain(',"Ring, 6"" stud",');
});

// What a spreadsheet takes for a formula: the list of the OWASP page "CSV Injection".
test.each(['=1+1', '+1', '-1+1', '@SUM(A1)'])(
  'text that a spreadsheet would take for a formula is guarded: %s',
  (text) => {
    const csv = orderListCsv(orderList([packLine(1, { description: text, supplierCode: text })]));
    expect(rows(csv)[0]).toMatch(new RegExp(`^1,'${text.replace(/[+()]/g, '\\$&')},'`));
  },
);

// IEC 60757 joins red and blue to RDBU, whichever is the base: words say it, and once.
test('a colour stands once, in words, whatever its letters; the CSV has both in columns of their own', () => {
  const colour = 'red with blue tracer';
  const list = (description: string) =>
    orderList([metreLine(1, { description, colour, colourLetters: 'RDBU' })]);
  for (const description of ['Wire', `Wire, ${colour}`, 'Wire, RED with blue tracer']) {
    const text = flat(orderListText(list(description)));
    expect([description, text.match(/red with blue tracer/gi)?.length]).toEqual([description, 1]);
    expect(text).not.toContain('RDBU');
    expect(orderListCsv(list(description))).toContain(`,${colour},RDBU,`);
  }
});

test('a description that names another colour does not hide the colour', () => {
  for (const description of [
    'Wire, light red',
    'Wire, red with white tracer',
    'Wire, blue with red tracer',
    'Wire, red/blue',
  ])
    expect(flat(orderListText(orderList([metreLine(1, { description })])))).toContain(`${description}, red`);
});

test('says who orders, for what, and how to reach the supplier; nothing of what is not known', () => {
  const known = orderListText(
    orderList([packLine(1)], {
      contact: { email: 'orders@ash.example', phone: '01234', website: 'https://ash.example' },
      buyer: { name: 'A. Club', address: '4 Mill Lane, Burrow', phone: '05678', email: 'a@club.example' },
      reference: 'Trailer 2',
      vehicles: ['Burrow trailer, 1962'],
    }),
  );
  expect(known.split('\n').slice(0, 7)).toEqual([
    'Order list: Ash Wire & Terminal',
    'To: orders@ash.example, 01234, https://ash.example',
    'From: A. Club, 4 Mill Lane, Burrow, 05678, a@club.example',
    'Reference: Trailer 2',
    'For: Burrow trailer, 1962',
    'Date: 2026-03-02',
    'Please do not substitute.',
  ]);
  expect(
    orderListText(orderList([packLine(1)]))
      .split('\n')
      .slice(0, 3),
  ).toEqual(['Order list: Ash Wire & Terminal', 'Date: 2026-03-02', 'Please do not substitute.']);
});

test('a line says what may be sent instead, and the heading that nothing else may', () => {
  const instead = [{ supplierCode: 'R2', description: 'Ring' }, { description: 'Lug' }];
  const list = orderList([packLine(1, { instead }), packLine(2)]);
  const text = flat(orderListText(list));
  expect(text).toContain('Please do not substitute, except where a line says what may be sent instead.');
  expect(text.match(/May be sent instead: Ring \(R2\), or Lug/g)).toHaveLength(1);
  expect(rows(orderListCsv(list)).map((row) => /,("[^"]*"|[^,]*)$/.exec(row)?.[1])).toEqual([
    '"Ring (R2), or Lug"',
    'please do not substitute',
    '',
  ]);
});

test('a kit says what it holds', () => {
  const kit = packLine(1, {
    description: 'Box of bullets',
    holds: '10 × Bullet, 5 × Joiner',
    bought: { form: 'kit', packs: 2, contents: [{ part: 'b', quantity: 10 }], packPrice: gbp('1.80') },
  });
  expect(flat(orderListText(orderList([kit])))).toContain('Box of bullets, holds 10 × Bullet, 5 × Joiner');
  expect(orderListCsv(orderList([kit]))).toContain('"Box of bullets, holds 10 × Bullet, 5 × Joiner"');
});

test('a supplier abroad is sent its own currency, without what customs add, and asked to leave its tax out', () => {
  const eur = (amount: string) => ({ amount, currency: 'EUR' });
  const text = orderListText(
    orderList([packLine(1, { theirCost: eur('4.76') })], {
      theirs: {
        currency: 'EUR',
        rate: '0.85',
        on: '2026-03-01',
        goods: eur('4.76'),
        postage: eur('9.52'),
        handling: eur('0.00'),
        taxTakenOffPercent: 19,
      },
      duty: gbp('1.11'),
      clearance: gbp('2.22'),
    }),
  );
  expect(text).toMatch(/Goods +4\.76\nPostage +9\.52\nTotal, EUR +14\.28\n/);
  expect(text).toContain('These prices include 19 % tax. Please take it off');
  for (const ours of ['1.11', '2.22', 'GBP', 'Rounding']) expect(text).not.toContain(ours);
});

test('control characters in what was typed cannot break a line or reach a terminal', () => {
  const list = orderList([packLine(1, { description: 'Ring\nline 2\u001b[2Jend' })], { name: 'Ash\r\nWire' });
  expect(orderListText(list)).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
  expect(orderListText(list)).toContain('Order list: Ash Wire\n');
  expect(rows(orderListCsv(list))[0]).toContain('Ring line 2 [2Jend');
});
