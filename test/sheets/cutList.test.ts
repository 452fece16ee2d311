import { expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import { blocksHtml } from '../../worker/sheets/blockHtml.ts';
import { blocksText } from '../../worker/sheets/blockText.ts';
import { cutGroups } from '../../worker/sheets/cutList.ts';
import { cutList } from '../../worker/sheets/cutListSheet.ts';
import {
  byTheMetre,
  crimped,
  jobOf,
  points,
  priced,
  supplier,
  terminal,
  wire,
  wirePart,
} from '../engine/fixtures.ts';
import { fullResult, hanksOfRed, withLink } from './sample.ts';

/** Three looms of two wires, one of which ends in the vehicle; all from two fixed lengths of 4 m and a bit. */
const cutFrom = (nominalMm: number, quantity: number) =>
  priced(
    jobOf({
      quantity,
      ...hanksOfRed(nominalMm),
      loom: {
        points: points('A', 'B'),
        settings: { slackPercent: 0, redoMm: 0, stripMm: 0 },
        wires: [
          wire('W1', {
            from: crimped('A', 'ring', { way: '3', sharesTerminal: 's' }),
            to: { point: 'B', join: 'solder', terminateInVehicle: true },
          }),
          wire('W2', { length: { mm: 500, basis: 'route' } }),
        ],
      },
    }),
  );

test('each piece stands under the length that it comes from, the longest first, with both ends', async () => {
  const text = blocksText(cutList(await cutFrom(1610, 1)));
  expect(text).toMatch(
    /^From 1\.61 m \(1\.6 m usable\) of thin-wall 1 mm² red, Supplier shop\. 0\.1 m is left\.\n.*W1 .* 1000 {2}A 3: ring, shared +B: soldered, finish in the vehicle\n.*W2 .* 500 {2}A: bare +B: bare$/m,
  );
});

test('lengths that are cut in the same way are told once, with how many they are', async () => {
  // 1600 usable of each: a W1 and a W2 out of each of three.
  const groups = cutGroups(await cutFrom(1610, 3));
  expect(
    groups.map(({ lengths, rows }) => [lengths, rows.map(({ piece, count }) => [piece, count])]),
  ).toEqual([
    [
      3,
      [
        ['W1', 1],
        ['W2', 1],
      ],
    ],
  ]);
});

test('every piece of every wire stands there once', async () => {
  const result = await cutFrom(4010, 5);
  const counted = new Map<string, number>();
  for (const { lengths, rows } of cutGroups(result))
    for (const { piece, count } of rows) counted.set(piece, (counted.get(piece) ?? 0) + count * lengths);
  expect(Object.fromEntries(counted)).toEqual({ W1: 5, W2: 5 });
});

test('a wire that nobody offers stands there too, as not sourced', async () => {
  const result = await priced(
    jobOf({ parts: [wirePart('red')], loom: { points: points('A', 'B'), wires: [wire('W1')] } }),
  );
  expect(blocksText(cutList(result))).toMatch(/^thin-wall 1 mm² red: not sourced\.\n.*W1 .* 1066 /m);
});

test('a length that a wire’s work asks for is marked, boxed on a page, and says how it was worked out', async () => {
  const result = await withLink();
  const blocks = cutList(result);
  const text = blocksText(blocks);
  expect(text).toMatch(/LINK .* exactly 153 {2}A/);
  expect(text).toMatch(/W1 .* {2}1066 {2}A/);
  expect(text).toMatch(/^Cut to exactly these lengths:\n- LINK: 153 mm as stated.*$/m);
  const html = blocksHtml(blocks).toString();
  expect(html.match(/<span class="exact">[^<]*<\/span>/g)).toEqual([
    '<span class="exact">exactly 153</span>',
  ]);
  expect(blocksText(cutList(await cutFrom(1610, 1)))).not.toContain('exactly');
});

test('a terminal that is bought in place of another is the one that is named', async () => {
  const result = await priced(
    jobOf({
      parts: [wirePart('red'), terminal('ring')],
      suppliers: [supplier('shop')],
      offers: [byTheMetre('r', 'shop', 'red', '1.00')],
      loom: { points: points('A', 'B'), wires: [wire('W1', { to: crimped('B', 'ring') })] },
    }),
  );
  const swapped: Result = {
    ...result,
    requirements: result.requirements.map((need) =>
      need.kind === 'count' ? { ...need, boughtAs: [{ part: 'lug', label: 'Lug' }] } : need,
    ),
  };
  expect(blocksText(cutList(result))).toContain('B: ring');
  expect(blocksText(cutList(swapped))).toContain('B: lug');
});

test('a result made before ends and names were told is still a cut list', async () => {
  const result = await fullResult();
  const old: Result = {
    ...result,
    requirements: result.requirements.map((need) =>
      need.kind === 'wire'
        ? { ...need, pieces: need.pieces.map(({ ends: _ends, ...piece }) => piece) }
        : need,
    ),
    cuttingPlans: result.cuttingPlans.map((plan) => ({
      ...plan,
      lengths: plan.lengths.map((length) => ({
        ...length,
        pieces: length.pieces.map(({ names: _names, ...piece }) => piece),
      })),
    })),
  };
  expect(blocksText(cutList(old))).toMatch(/\[ \] +red +1 mm² +2 × 1066/);
});
