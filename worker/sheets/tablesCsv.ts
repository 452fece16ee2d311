import type { Block, Column, Row, Section } from './block.ts';
import { csvPieces } from './csvPieces.ts';

/** All tables of a sheet as CSV, one under the other, each with its head, all of one width; the first two columns say where it stands. */
export function tablesCsv(sections: readonly Section[]): Generator<string> {
  return csvPieces(tableRows(sections));
}

function* tableRows(sections: readonly Section[]): Generator<string[]> {
  const widest = widestOf(sections);
  for (const { title, blocks } of sections) {
    let under = '';
    for (const block of blocks) {
      if (block.form === 'head' || block.form === 'text') under = block.text;
      else
        for (const row of rowsOf(block, title, under))
          yield Array.from({ length: widest }, (_, at) => row[at] ?? '');
    }
  }
}

function widestOf(sections: readonly Section[]): number {
  const tables = sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) => ('columns' in block ? [headOf(block.columns).length] : [])),
  );
  return Math.max(0, ...tables);
}

function* rowsOf(block: Block, title: string, under: string): Generator<string[]> {
  if (block.form === 'table') {
    yield headOf(block.columns);
    for (const row of block.rows) yield [title, under, ...cellsOf(block.columns, row)];
  }
  if (block.form === 'groups') {
    yield headOf(block.columns);
    for (const { head, rows } of block.groups)
      for (const row of rows) yield [title, head, ...cellsOf(block.columns, row)];
  }
}

const headOf = (columns: readonly Column[]) => [
  'part of the sheet',
  'of',
  ...columns.filter(({ tick = false }) => !tick).map(({ head }) => head),
];

/** A box to tick is no cell. */
function cellsOf(columns: readonly Column[], row: Row): string[] {
  return columns.flatMap(({ tick = false }, at) => (tick ? [] : [row[at] ?? '']));
}
