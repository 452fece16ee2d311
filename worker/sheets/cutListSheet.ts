import type { Result } from '../engine/model/result.ts';
import { groups, list, under, type Block, type Column } from './block.ts';
import { boughtTerminals, cutGroups, endWords, groupHead, type CutGroup, type CutRow } from './cutList.ts';

/** Before a length that the work of its wire asks for. */
const EXACTLY = 'exactly ';

const COLUMNS: Column[] = [
  { head: '', tick: true },
  { head: 'Piece' },
  { head: 'Colour', wraps: true },
  { head: 'Size' },
  { head: 'mm', align: 'right', boxed: EXACTLY },
  { head: 'From', wraps: true },
  { head: 'To', wraps: true },
];

/** The cut list for the bench: a line for each piece, under the length that it comes from; then why some are exact. */
export function cutList(result: Result): Block[] {
  const bought = boughtTerminals(result);
  const all = cutGroups(result);
  return [
    ...groups(
      COLUMNS,
      all.map((group) => ({
        head: groupHead(group),
        rows: group.rows.map((row) => [
          '',
          row.piece,
          group.colour,
          group.size,
          `${row.exact === '' ? '' : EXACTLY}${row.count === 1 ? '' : `${row.count} × `}${row.cutMm}`,
          ...fromAndTo(row, bought),
        ]),
      })),
    ),
    ...under('Cut to exactly these lengths', list(exactLines(all))),
  ];
}

/** A line for each piece, however many lengths it is cut from. */
function exactLines(all: readonly CutGroup[]): string[] {
  const lines = all.flatMap(({ rows }) =>
    rows.flatMap(({ piece, exact }) => (exact === '' ? [] : [`${piece}: ${exact}`])),
  );
  return [...new Set(lines)];
}

function fromAndTo({ ends, cores }: CutRow, bought: (terminal: string) => string): [string, string] {
  const [from, to] = ends;
  if (!from || !to) return [cores.length === 0 ? '' : `cores ${cores.join(', ')}`, ''];
  return [endWords(from, bought), endWords(to, bought)];
}
