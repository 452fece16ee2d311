import { expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';
import { blocksText } from '../../worker/sheets/blockText.ts';
import { cutList } from '../../worker/sheets/cutListSheet.ts';
import { shelfItem } from '../../worker/sheets/names.ts';
import { fullHtml } from '../../worker/sheets/quoteHtml.ts';
import { needs } from '../../worker/sheets/needs.ts';
import { jobOf, points, priced, wire, wirePart } from '../engine/fixtures.ts';

const offcut = { form: 'length', code: 'offcut', part: 'red', count: 1, lengthMm: 3_000 } as const;
const withStock = (stock: NonNullable<JobInput['stock']>) =>
  priced(jobOf({ parts: [wirePart('red')], stock, loom: { points: points('A', 'B'), wires: [wire('W1')] } }));

test('what comes off the shelf says whose it is and where it lies', async () => {
  const result = await withStock([{ ...offcut, owner: 'Ada', place: 'shed', clubMayUse: false }]);
  expect(result.fromStock).toMatchObject([{ stock: 'offcut', owner: 'Ada', place: 'shed' }]);
  expect(blocksText(needs(result))).toMatch(/offcut, Ada’s, shed/);
  expect(fullHtml(result)).toContain('offcut, Ada’s, shed');
  expect(blocksText(cutList(result))).toMatch(/from the shelf \(offcut, Ada’s, shed\)/);
});

test('what has no owner and no place stands as the item alone', async () => {
  const result = await withStock([offcut]);
  const [taken = {}] = result.fromStock;
  expect(['stock', 'owner', 'place'].filter((field) => field in taken)).toEqual(['stock']);
  expect(blocksText(cutList(result))).toMatch(/from the shelf \(offcut\)/);
  expect(shelfItem('box', { place: 'loft' })).toBe('box, loft');
});

test('only what has an owner is kept from the club', () => {
  expect(StockItem.safeParse({ ...offcut, clubMayUse: true }).success).toBe(false);
  expect(StockItem.safeParse({ ...offcut, clubMayUse: true, owner: 'Ada' }).success).toBe(true);
});
