import { printable } from '../../worker/sheets/textTable.ts';
import type { LoadedTable } from './loadTables.ts';
import type { Way } from './loadJob.ts';

/** Most rows that are told of one file. */
const MOST = 50;

/** What came of files of tables, a block each, with what to fix and what differs. */
export function loadedTablesText(loaded: readonly LoadedTable[], way: Way): string {
  const blocks = loaded.map(({ file, told, why }) => {
    if (!told) return `${file} was not loaded: ${why ?? ''}`;
    const lines = told.rows.flatMap(({ code, faults = [], changes = [] }) => [
      ...faults.map(
        ({ row, column, found, todo }) =>
          `  row ${row}${column === undefined ? '' : `, column ${column}`}: found ${found}. ${todo}`,
      ),
      ...changes.map(
        ({ column, before, after }) =>
          `  ${code}, ${column}: ${shown(before)} ${way === 'update' ? 'before' : 'in the club'}, ${shown(after)} ${way === 'update' ? 'now' : 'in the file'}`,
      ),
    ]);
    const more = lines.length - MOST;
    const differ = { add: 'differing and left alone', update: 'changed', preview: 'differing' }[way];
    return [
      `${file}: ${way === 'preview' ? 'would be added' : 'added'} ${told.new}, ${differ} ${told.changed}, the same ${told.unchanged}, with faults and left out ${told.faults}`,
      ...told.file.map(({ where, found, todo }) => `  ${where}: found ${found}. ${todo}`),
      ...lines.slice(0, MOST),
      ...(more > 0 ? [`  … and ${more} more`] : []),
      ...(told.wires.added > 0
        ? [`  Wires that offers name, added as parts: ${told.wires.codes.join(', ')}`]
        : []),
    ].join('\n');
  });
  const left = way === 'add' && loaded.some(({ told }) => (told?.changed ?? 0) > 0);
  return [
    ...blocks.map(printableLines),
    ...(way === 'preview' ? ['Nothing was written.'] : []),
    ...(left ? ['To set those that differ to the file’s, run it again with --update.'] : []),
    '',
  ].join('\n');
}

const shown = (cell: string) => (cell === '' ? 'nothing' : `“${cell}”`);
const printableLines = (text: string) => text.split('\n').map(printable).join('\n');
