import { hashOfSecret, type Key } from '../../db/keys.ts';

/**
 * How long a key counts as good without another look: a key that another process revoked opens nothing after this time
 * and what a look takes, which is to be under 2 s together.
 */
const GOOD_MS = 1_500;
/** Keys of 300 bytes or so each. */
const MOST_KEPT = 10_000;

export interface KeyRing {
  /**
   * Whose key it is, or undefined where it opens nothing. Asks the database at most once in 1.5 s for a key that is
   * good; a key that opens nothing is not kept. `mayLook` is asked before a key is looked up that was not good before;
   * what it throws is thrown.
   */
  find(secret: string, mayLook?: () => void): Promise<Key | undefined>;
  /** From now on the key opens nothing here, whatever look is under way. Call it once its revocation is committed. */
  forget(id: string): void;
}

interface Kept {
  key: Key;
  goodUntil: number;
}

/**
 * The keys that were good a moment ago, by the hash of their secret; never the secret itself. The longest unused leave
 * first where there are too many. `now` is in milliseconds and never goes back.
 */
export function keyRing(
  look: (hash: string) => Promise<Key | undefined>,
  now: () => number,
  { goodMs = GOOD_MS, mostKept = MOST_KEPT }: { goodMs?: number; mostKept?: number } = {},
): KeyRing {
  const kept = new Map<string, Kept>();
  /** Looks under way: who asks for the same key at the same time waits for the same look. */
  let looks = new Map<string, Promise<Key | undefined>>();

  async function lookUp(hash: string): Promise<Key | undefined> {
    // From before the look: what it saw may be revoked by the time that it is told.
    const goodUntil = now() + goodMs;
    const before = looks;
    try {
      const key = await look(hash);
      // A key was forgotten meanwhile, perhaps this one: what was seen may be older than that.
      if (before !== looks) return key;
      kept.delete(hash);
      if (key) keep(hash, { key, goodUntil });
      return key;
    } finally {
      before.delete(hash);
    }
  }

  function keep(hash: string, entry: Kept): void {
    kept.set(hash, entry);
    const [oldest] = kept.keys();
    if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest);
  }

  return {
    async find(secret, mayLook) {
      const hash = hashOfSecret(secret);
      const known = kept.get(hash);
      if (known && now() < known.goodUntil) return known.key;
      const underWay = looks.get(hash);
      if (underWay) return underWay;
      if (!known) mayLook?.();
      const looking = lookUp(hash);
      looks.set(hash, looking);
      return looking;
    },
    forget(id) {
      for (const [hash, { key }] of kept) if (key.id === id) kept.delete(hash);
      looks = new Map();
    },
  };
}
