import { pointer, type Finding } from '../engine/model/finding.ts';

/** Something to fix in a table, with its place in it. Rows are counted as a spreadsheet does: the first line is row 1. */
export interface TableFault {
  readonly row?: number;
  readonly column?: string;
  readonly finding: Finding;
}

export interface FaultWords {
  code: string;
  found: string;
  limit?: string;
  todo: string;
}

/** A fault of a file, of a row of it, or of a cell. */
export function tableFault(
  file: string,
  place: { row?: number | undefined; column?: string | undefined },
  { code, found, limit, todo }: FaultWords,
): TableFault {
  const { row, column } = place;
  const where = [
    file,
    ...(row === undefined ? [] : [`row ${row}`]),
    ...(column === undefined ? [] : [`column ${column}`]),
  ];
  const finding: Finding = {
    code,
    severity: 'stop',
    at: pointer([...(row === undefined ? [] : [row]), ...(column === undefined ? [] : [column])]),
    where: where.join(', '),
    found,
    ...(limit === undefined ? {} : { limit }),
    todo,
  };
  return {
    ...(row === undefined ? {} : { row }),
    ...(column === undefined ? {} : { column }),
    finding,
  };
}

/** A file that cannot be read on from here. */
export class Unreadable extends Error {
  readonly words: FaultWords;
  readonly row: number | undefined;

  constructor(words: FaultWords, row?: number) {
    super(words.todo);
    this.words = words;
    this.row = row;
  }
}

/** Text as a fault shows it: in quotes, not too long. */
export function shown(text: string): string {
  return JSON.stringify(text.length > 100 ? `${text.slice(0, 97)}…` : text);
}
