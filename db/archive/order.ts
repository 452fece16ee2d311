import { byCode } from '../../worker/engine/model/code.ts';
import { ENTRY_TYPES, nameOf, type Entry, type EntryType } from './entries.ts';

/** Types that stand together: a loom with its revisions, a quote with its winning prices, an order with its deliveries. */
const RANKED: Record<EntryType, EntryType> = {
  ...(Object.fromEntries(ENTRY_TYPES.map((type) => [type, type])) as Record<EntryType, EntryType>),
  revision: 'loom',
  winningPrice: 'quote',
  receipt: 'order',
  orderEntry: 'order',
};

function keyOf(entry: Entry): (string | number)[] {
  switch (entry.type) {
    case 'club':
    case 'synonyms':
      return [];
    case 'fit':
      return [entry.body.from, entry.body.relation, entry.body.to];
    case 'loom':
      return [entry.code, 0];
    case 'revision':
      return [entry.loom, entry.revision];
    case 'quote':
      return [entry.id, ''];
    case 'winningPrice':
      return [entry.quote, entry.offer];
    case 'fitReport':
      return [entry.from, entry.relation, entry.to, entry.id];
    case 'offerPrice':
      return [entry.offer, entry.number];
    case 'order':
      return [entry.id, ''];
    case 'receipt':
      return [entry.order, entry.id];
    case 'orderEntry':
      // After the deliveries.
      return [entry.order, `~${entry.id}`];
    case 'reservation':
      return [entry.stock, entry.quote];
    case 'movement':
      return [entry.stock, entry.number];
    case 'member':
    case 'audit':
      return [entry.id];
    case 'part':
    case 'supplier':
    case 'offer':
    case 'rate':
    case 'lane':
    case 'stock':
      return [entry.body.code];
  }
}

function compare(a: Entry, b: Entry): number {
  const ranks = [a, b].map(({ type }) => ENTRY_TYPES.indexOf(RANKED[type])) as [number, number];
  if (ranks[0] !== ranks[1]) return ranks[0] - ranks[1];
  const [ours, theirs] = [keyOf(a), keyOf(b)];
  for (const [at, key] of ours.entries()) {
    const other = theirs[at];
    if (key === other) continue;
    return typeof key === 'number' ? key - Number(other) : byCode(key, String(other));
  }
  return 0;
}

/**
 * Sees to the order of an archive's entries, so that nothing stands twice and nothing is missing in between: asked of each
 * entry in turn, and at the end without one. Returns what is wrong, in a sentence; undefined where nothing is.
 */
export function orderKeeper(): (next: Entry | undefined) => string | undefined {
  let last: Entry | undefined;
  let loom: { code: string; revisions: number; of: number } | undefined;
  let quote: string | undefined;
  let order: string | undefined;
  let moved: { stock: string; number: number; balance: number } | undefined;

  function wrong(next: Entry | undefined): string | undefined {
    if (!last && next?.type !== 'club') return 'The first entry must be the club.';
    if (last && next && compare(last, next) >= 0)
      return `${nameOf(next)} cannot come after ${nameOf(last)}: the entries are sorted, and each comes once.`;
    if (loom && loom.revisions < loom.of && next?.type !== 'revision')
      return `Of the loom ${loom.code} there are ${loom.of} revisions, but the archive has only ${loom.revisions}.`;
    if (next?.type === 'revision') {
      if (next.loom !== loom?.code)
        return `${nameOf(next)} must come after its loom, but the loom before it is another one or missing.`;
      if (next.revision !== loom.revisions + 1 || next.revision > loom.of)
        return `Of the loom ${loom.code}, revision ${loom.revisions + 1} of ${loom.of} is next, not ${next.revision}.`;
    }
    if (next?.type === 'winningPrice' && next.quote !== quote)
      return `${nameOf(next)} must come after its quote, but the quote before it is another one or missing.`;
    if ((next?.type === 'receipt' || next?.type === 'orderEntry') && next.order !== order)
      return `${nameOf(next)} must come after its order, but the order before it is another one or missing.`;
    if (next?.type === 'movement') {
      const before = moved?.stock === next.stock ? moved : { number: 0, balance: 0 };
      if (next.number !== before.number + 1)
        return `Of the stock item ${next.stock}, movement ${before.number + 1} is next, not ${next.number}.`;
      if (next.balance !== before.balance + next.change)
        return `${nameOf(next)} must have the balance ${before.balance + next.change}: there were ${before.balance} before it, and it changes them by ${next.change}.`;
    }
    return undefined;
  }

  return (next) => {
    const fault = wrong(next);
    if (fault !== undefined || !next) return fault;
    last = next;
    if (next.type === 'loom') loom = { code: next.code, revisions: 0, of: next.latestRevision };
    else if (next.type === 'revision') loom = loom && { ...loom, revisions: next.revision };
    else loom = undefined;
    if (next.type === 'quote') quote = next.id;
    if (next.type === 'order') order = next.id;
    if (next.type === 'movement') moved = next;
    return undefined;
  };
}
