import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import { cuttingCsv } from '../../worker/sheets/bench/cuttingCsv.ts';
import { cuttingSections } from '../../worker/sheets/bench/cutting.ts';
import { benchLengths } from '../../worker/sheets/bench/lengths.ts';
import { sectionsText } from '../../worker/sheets/blockText.ts';
import { crimped, jobOf, points, priced, wire } from '../engine/fixtures.ts';
import { hanksOfRed, withLink } from './sample.ts';

interface Given {
  lengths: number[];
  quantity: number;
  nominalMm?: number;
}

/** A loom of red wires of these lengths, from hanks of one length. */
function cut({ lengths, quantity, nominalMm = 4010 }: Given): Promise<Result> {
  return priced(
    jobOf({
      quantity,
      ...hanksOfRed(nominalMm),
      loom: {
        points: points('A', 'B'),
        settings: { slackPercent: 0, redoMm: 0, stripMm: 5 },
        wires: lengths.map((mm, at) =>
          wire(`W${at + 1}`, {
            length: { mm, basis: 'tipToTip' },
            from: crimped('A', 'ring', at < 2 ? { way: '3', sharesTerminal: 's' } : {}),
          }),
        ),
      },
    }),
  );
}

const csvOf = (result: Result): Record<string, string>[] =>
  parse([...cuttingCsv(result)].join(''), { columns: true });

test('every piece of every loom stands once on the sheet, the longest of its length first, end to end with the offcut last', async () => {
  const given = fc.record({
    lengths: fc.array(fc.integer({ min: 50, max: 3900 }), { minLength: 1, maxLength: 5 }),
    quantity: fc.integer({ min: 1, max: 3 }),
  });
  await fc.assert(
    fc.asyncProperty(given, async ({ lengths, quantity }) => {
      const result = await cut({ lengths, quantity });
      const counted = new Map<string, number>();
      for (const { pieces, offcut } of benchLengths(result)) {
        let at = 0;
        let before = Infinity;
        for (const { name, cutMm, place } of pieces) {
          counted.set(name, (counted.get(name) ?? 0) + 1);
          expect(place).toEqual({ fromMm: at, toMm: at + cutMm });
          expect(cutMm).toBeLessThanOrEqual(before);
          at += cutMm;
          before = cutMm;
        }
        // 4.01 m with 10 mm lost at its end.
        expect(offcut).toMatchObject({ fromMm: at, mm: 4000 - at });
      }
      expect(counted).toEqual(new Map(lengths.map((_, at) => [`l/W${at + 1}`, quantity])));
    }),
    { numRuns: 6 },
  );
});

test('a piece says its place and all that is done at both ends, an offcut what becomes of it', async () => {
  const text = sectionsText(
    cuttingSections(await cut({ lengths: [1200, 700], quantity: 1, nominalMm: 2200 })),
  );
  expect(text).toMatch(/^Length 1 of 1: 2\.2 m \(2\.19 m usable\) of thin-wall 1 mm² red, Supplier shop$/m);
  expect(text).toMatch(
    /\[ \] +W1 +1200 +0 … 1200 +A 3: strip 5; ring, crimped with W2 +B: strip 5; left bare$/m,
  );
  expect(text).toMatch(/\[ \] +W2 +700 +1200 … 1900 +A 3: strip 5; ring, crimped with W1 /m);
  expect(text).toMatch(/\[ \] +offcut +290 +1900 … 2190 +for test crimps, then scrap$/m);
  expect(text).toContain('Disconnect the battery');
});

test('an offcut of at least offcutMinimumMm is kept', async () => {
  const text = sectionsText(cuttingSections(await cut({ lengths: [1200], quantity: 1, nominalMm: 1510 })));
  expect(text).toMatch(/offcut +300 +1200 … 1500 +keep it: write “0\.3 m” on it$/m);
});

test('the CSV has a row for each piece and offcut, with places and ends in columns', async () => {
  const rows = csvOf(await cut({ lengths: [1200, 700], quantity: 2, nominalMm: 2500 }));
  const pieces = rows.map(({ piece }) => piece).filter((piece) => piece !== 'offcut' && piece !== 'spare');
  expect(pieces.sort()).toEqual(['W1', 'W1', 'W2', 'W2']);
  expect(rows.find(({ piece }) => piece === 'W2')).toMatchObject({
    mm: '700',
    'first point': 'A',
    'first strip mm': '5',
    'first join': 'ring, crimped',
    'second join': 'left bare',
  });
});

test('a length that a wire’s work asks for is marked exactly and says why, here and in the CSV', async () => {
  const result = await withLink();
  const text = sectionsText(cuttingSections(result));
  expect(text).toMatch(/LINK +exactly 153 /);
  expect(text).toMatch(/^- LINK: 153 mm as stated/m);
  const said = new Map(csvOf(result).map((row) => [row['piece'], row['exact length']]));
  expect(said.get('LINK')).toMatch(/^153 mm as stated/);
  expect(said.get('W1')).toBe('');
});

test('of a result without what the bench needs, the sheet says what it can', async () => {
  const { bench: _bench, ...older } = await cut({ lengths: [1200, 700], quantity: 1 });
  const text = sectionsText(cuttingSections(older));
  expect(text).toMatch(/W1 +1200 +0 … 1200 +A 3: ring, crimped, shared +B: left bare$/m);
});
