import type { Job } from '../../../worker/engine/model/job.ts';
import type { Rules } from './rules.ts';

/** What is on the shelf of parts that serve a requirement. */
export interface Shelf {
  /** Pieces by part, above none: a piece serves one requirement alone. */
  pieces: ReadonlyMap<string, number>;
  /** Lengths, mm. */
  lengths: readonly number[];
}

export function shelfOf(job: Job, parts: readonly string[], rules: Rules): Shelf {
  const pieces = parts.map((part) => [part, shelfPieces(job, part, rules)] as const);
  const stock = rules.stockLengths && job.request.useStock !== false ? job.stock : [];
  return {
    pieces: new Map(pieces.filter(([, count]) => count > 0)),
    lengths: stock.flatMap((item) =>
      item.form === 'length' && parts.includes(item.part)
        ? Array<number>(item.count).fill(item.lengthMm)
        : [],
    ),
  };
}

/** Pieces of a counted part on the shelf, less those that looms take from stock. */
function shelfPieces(job: Job, part: string, rules: Rules): number {
  if (!rules.stockPieces || job.request.useStock === false) return 0;
  const taken = job.request.looms.reduce((sum, line) => {
    const uses = job.looms
      .filter(({ code }) => code === line.loom)
      .flatMap(({ parts }) => parts.filter((use) => use.part === part && use.supply === 'stock'));
    return sum + line.quantity * uses.reduce((many, { quantity }) => many + quantity, 0);
  }, 0);
  return Math.max(0, onShelf(job, part) - (rules.stockTakenFirst ? taken : 0));
}

export function ownsTool(job: Job, part: string, rules: Rules): boolean {
  return rules.toolsOwned && onShelf(job, part) > 0;
}

function onShelf(job: Job, part: string): number {
  return job.stock
    .filter((item) => item.form === 'pieces' && item.part === part)
    .reduce((sum, { count }) => sum + count, 0);
}
