import type { Finding } from '../engine/model/finding.ts';
import { printable } from './textTable.ts';

/** Every fault of a document, a block each: where, what was found, how to fix it. */
export function faultsText(what: string, faults: readonly Finding[]): string {
  const blocks = faults.map(({ at, where, found, limit, todo }) =>
    [
      at === '' ? '(the whole document)' : printable(at),
      `  where: ${printable(where)}`,
      `  found: ${printable(found)}`,
      ...(limit === undefined ? [] : [`  limit: ${printable(limit)}`]),
      `  to do: ${printable(todo)}`,
    ].join('\n'),
  );
  const count = `${faults.length} fault${faults.length === 1 ? '' : 's'}`;
  return [`${what}: ${count}.`, ...blocks].join('\n\n');
}
