import { proposedLeftOut } from '../../job/unconfirmed.ts';
import { byCode } from '../../model/code.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { isByLength } from '../../model/part.ts';
import type { Job } from '../../model/job.ts';
import type { LeftOut } from '../../model/result.ts';
import type { StockItem } from '../../model/stock.ts';

/** An item on the shelf with so many of it that are free. */
export interface OnShelf {
  item: StockItem;
  free: number;
}

/**
 * What is on the shelf and free for the quote. Counted parts that looms take off the shelf by themselves (supply stock) are
 * taken off first, from one item after the other by code.
 */
export function shelfOf(job: Job, leftOut: readonly LeftOut[]): { shelf: OnShelf[]; findings: Finding[] } {
  if (job.request.useStock === false) return { shelf: [], findings: [] };
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const taken = new Map<string, number>();
  for (const { part, supply, quantity = 0 } of leftOut)
    if (part !== undefined && supply === 'stock') taken.set(part, (taken.get(part) ?? 0) + quantity);
  const leftAside = proposedLeftOut(job).parts;
  const findings: Finding[] = [];
  const shelf = [...job.stock]
    .sort((a, b) => byCode(a.code, b.code))
    .flatMap((item): OnShelf[] => {
      const part = parts.get(item.part);
      if (!part) return [];
      if (isByLength(part.kind) !== (item.form === 'length')) {
        const index = job.stock.indexOf(item);
        findings.push({
          code: 'stock-of-other-form',
          severity: 'note',
          at: pointer(['stock', index, 'form']),
          where: `stock ${item.code}`,
          found:
            item.form === 'length'
              ? `lengths of ${part.code}, which is counted`
              : `pieces of ${part.code}, which is needed by length`,
          limit: item.form === 'length' ? 'pieces' : 'length',
          todo: 'This stock is not used. Enter lengths for a part that is needed by length, and a count for a part that is counted.',
        });
        return [];
      }
      if (leftAside.has(item.part)) {
        findings.push({
          code: 'stock-not-confirmed',
          severity: 'note',
          at: pointer(['stock', job.stock.indexOf(item), 'part']),
          where: `stock ${item.code}`,
          found: `it is of ${part.code}, a proposed part that nobody has confirmed`,
          limit: 'only what is confirmed (confirmedOnly)',
          todo: `This stock is not used. Ask an editor to confirm the part ${part.code}, or ask for the quote without confirmedOnly.`,
        });
        return [];
      }
      const off = Math.min(item.count, taken.get(item.part) ?? 0);
      if (item.form === 'pieces') taken.set(item.part, (taken.get(item.part) ?? 0) - off);
      const free = item.form === 'pieces' ? item.count - off : item.count;
      return free > 0 ? [{ item, free }] : [];
    });
  return { shelf, findings };
}
