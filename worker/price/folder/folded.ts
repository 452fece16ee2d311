import { addTo } from '../../engine/model/group.ts';
import type { Finding } from '../../engine/model/finding.ts';

/** A fault as it is printed, with how many cells have it. */
type Folded = Pick<Finding, 'where' | 'found' | 'limit' | 'todo'> & { readonly cells: number };

/**
 * Equal faults of one column as one, where the first of them stands. Faults are equal when what to do is the same but for the
 * cell's own value: words in quotes, and digits.
 */
export function folded(faults: readonly Finding[]): Folded[] {
  const groups = new Map<string, Finding[]>();
  faults.forEach((fault, at) => {
    const place = placeOf(fault);
    const key = place
      ? JSON.stringify([place.file, place.column, fault.code, fault.limit, withoutValue(fault)])
      : `alone ${at}`;
    addTo(groups, key, fault);
  });
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (!first) return [];
    return [group.length === 1 ? { ...first, cells: 1 } : together(first, group)];
  });
}

function together(first: Finding, group: readonly Finding[]): Folded {
  const { file, column, row } = placeOf(first) ?? { file: first.where, column: '', row: 0 };
  const found = [...new Set(group.map((fault) => fault.found))];
  const shown = found.slice(0, 3).join(', ');
  const same = group.every(({ todo }) => todo === first.todo);
  return {
    ...first,
    where: `${file}, ${rowsText(group.map((fault) => placeOf(fault)?.row ?? 0))}, column ${column}`,
    found: found.length > 3 ? `${shown} and ${found.length - 3} more` : shown,
    todo: same ? first.todo : `Row ${row}: ${first.todo} The other rows are alike.`,
    cells: group.length,
  };
}

const withoutValue = ({ todo, found }: Finding) =>
  todo
    .replaceAll(found, '')
    .replaceAll(/"[^"]*"/g, '')
    .replaceAll(/\d+/g, '0');

function placeOf({ where }: Finding): { file: string; row: number; column: string } | undefined {
  const [, file, row, column] = /^([^,]+), row (\d+), column (.+)$/.exec(where) ?? [];
  return file !== undefined && column !== undefined ? { file, row: Number(row), column } : undefined;
}

/** "rows 2 to 23", "rows 2, 5 to 7" */
function rowsText(rows: readonly number[]): string {
  const spans: [from: number, to: number][] = [];
  for (const row of [...new Set(rows)].sort((a, b) => a - b)) {
    const last = spans.at(-1);
    if (last?.[1] === row - 1) last[1] = row;
    else spans.push([row, row]);
  }
  return `rows ${spans.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ')}`;
}
