import type { Finding } from '../../engine/model/finding.ts';
import { counted } from '../../sheets/amounts.ts';
import { printable } from '../../sheets/textTable.ts';
import { folded } from './folded.ts';

/** So many blocks are printed; fixing these most often takes more away. */
const MOST = 200;

/** What to fix in the tables of a folder, a block each: where, what was found, what to do. Equal faults are one block. */
export function folderFaultsText(folder: string, faults: readonly Finding[]): string {
  const all = folded(faults);
  const blocks = all
    .slice(0, MOST)
    .map(({ where, found, limit, todo }) =>
      [
        printable(where),
        `  found: ${printable(found)}`,
        ...(limit === undefined || limit.length > 200 ? [] : [`  right: ${printable(limit)}`]),
        `  to do: ${printable(todo)}`,
      ].join('\n'),
    );
  const more = all.slice(MOST).reduce((sum, { cells }) => sum + cells, 0);
  return [
    `Fix these first: ${counted(faults.length, 'fault')} in ${folder}.`,
    ...blocks,
    ...(more > 0 ? [`And ${counted(more, 'fault')} more.`] : []),
  ].join('\n\n');
}

/** What a folder holds, and what came into being beside it. */
export function folderNotesText(
  counts: readonly (readonly [file: string, rows: number])[],
  notes: readonly string[],
): string {
  return [
    ...counts.map(([file, rows]) => `${file}: ${counted(rows, 'row')}`),
    ...notes.map((note) => printable(note)),
  ].join('\n');
}
