import type { StockItem } from '../../engine/model/stock.ts';
import { metres } from '../../engine/units/length.ts';
import { counted } from '../amounts.ts';
import { groups, table, text, type Block, type Column } from '../block.ts';
import { byPart, byPlace, groupedBy, type Stocked } from './shelfOrder.ts';
import type { ShelfSheet } from './shelfSheet.ts';

export interface StockAsked {
  /** What the list is narrowed to, in words: "place: shed". */
  only: readonly string[];
  /** The day on which the list is made. */
  day: string;
}

/** What lies on the shelf, by place, with a box for each item to count it by hand; then what there is of each part. */
export function stockListSheet(all: readonly Stocked[], { only, day }: StockAsked): ShelfSheet {
  const stocked = byPlace(all);
  const asked = only.length === 0 ? '' : `Only ${only.join('; ')}. `;
  return {
    kind: 'Stock list',
    title: 'Stock list',
    about: `${asked}As of ${day}`,
    day,
    sections:
      stocked.length === 0
        ? [{ title: '', blocks: text('Nothing of this lies on the shelf.') }]
        : [
            { title: '', blocks: placesOf(stocked) },
            { title: 'What there is of each part', blocks: totalsOf(stocked) },
          ],
  };
}

/** Columns in which no item has anything are left out. */
function placesOf(stocked: readonly Stocked[]): Block[] {
  const has = (of: (item: StockItem) => unknown) => stocked.some(({ item }) => of(item) !== undefined);
  const shown: { column: Column; cell: (of: Stocked) => string }[] = [
    { column: { head: 'Part', wraps: true }, cell: ({ part }) => part.description },
    { column: { head: 'Code of the item', wraps: true }, cell: ({ item }) => item.code },
    ...(has(({ owner }) => owner)
      ? [{ column: { head: 'Whose', wraps: true }, cell: ({ item }: Stocked) => whose(item) }]
      : []),
    ...(has(({ note }) => note)
      ? [{ column: { head: 'Note', wraps: true }, cell: ({ item }: Stocked) => item.note ?? '' }]
      : []),
    { column: { head: 'Count', align: 'right' }, cell: ({ item }) => `${item.count}` },
    { column: { head: 'Each', align: 'right' }, cell: ({ item }) => eachOf(item) },
    { column: { head: 'Counted', writeMm: 16 }, cell: () => '' },
  ];
  return [
    ...text(
      'Tick a box if the count is right. If not, write what you counted. Lengths that are not equally long are items of their own.',
    ),
    ...groups(
      shown.map(({ column }) => column),
      [...groupedBy(stocked, ({ item }) => item.place ?? '')].map(([place, own]) => ({
        head: place === '' ? 'Without a place' : place,
        rows: own.map((each) => shown.map(({ cell }) => cell(each))),
      })),
    ),
  ];
}

function whose({ owner, clubMayUse = true }: StockItem): string {
  if (owner === undefined) return '';
  return clubMayUse ? owner : `${owner}, not for the club`;
}

const eachOf = (item: StockItem) => (item.form === 'length' ? metres(item.lengthMm) : 'piece');

function totalsOf(stocked: readonly Stocked[]): Block[] {
  const parts = groupedBy(byPart(stocked), ({ part }) => part.code);
  return table(
    [{ head: 'Part', wraps: true }, { head: 'Code of the part', wraps: true }, { head: 'In stock' }],
    [...parts.values()].flatMap((own) => {
      const [first] = own;
      return first ? [[first.part.description, first.part.code, totalOf(own)]] : [];
    }),
  );
}

/** "12 pieces", "7.5 m in 3 lengths". A part has the one or the other. */
function totalOf(own: readonly Stocked[]): string {
  const sum = (of: (item: StockItem) => number) => own.reduce((all, { item }) => all + of(item), 0);
  const pieces = sum((item) => (item.form === 'pieces' ? item.count : 0));
  const lengths = sum((item) => (item.form === 'length' ? item.count : 0));
  const mm = sum((item) => (item.form === 'length' ? item.count * item.lengthMm : 0));
  return [
    ...(pieces === 0 ? [] : [counted(pieces, 'piece')]),
    ...(lengths === 0 ? [] : [`${metres(mm)} in ${counted(lengths, 'length')}`]),
  ].join('; ');
}
