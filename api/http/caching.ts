/**
 * How long an answer may be kept, and by whom (RFC 9111 §5.2.2). All are a club's alone.
 * `never`: prices, and what a key opens. `checked`: kept, and asked about with its ETag each time. `forever`: it never changes.
 */
export type Caching = 'never' | 'checked' | 'forever';

const SAYS: Record<Caching, string> = {
  never: 'private, no-store',
  checked: 'private, no-cache',
  forever: 'private, max-age=31536000, immutable',
};

/** `immutable`: RFC 8246. What is kept for ever is kept for one key: another club's reader may sit at the same browser. */
export function cachingHeaders(caching: Caching): Record<string, string> {
  return { 'cache-control': SAYS[caching], ...(caching === 'forever' ? { vary: 'authorization' } : {}) };
}
