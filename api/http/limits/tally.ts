/** Where the processes of one service count together. */
export interface SharedCounts {
  /** Adds to a name’s count; its sum in its window, and how long that goes on. Rejects soon where it cannot. */
  add(name: string, count: number): Promise<{ sum: number; endsInMs: number }>;
}

/** What is left of a limit. */
export interface Left {
  allowed: boolean;
  /** Of what may be done in this window. */
  left: number;
  /** Until the window ends, in milliseconds. */
  endsInMs: number;
}

export interface Tally {
  readonly perMinute: number;
  /** Counts one, where it is allowed. */
  take(name: string): Left;
  /** Takes one back that was counted. */
  giveBack(name: string): void;
  /** Tells the others what was counted here, and learns what they counted. Never rejects. */
  tell(): Promise<void>;
}

const WINDOW_MS = 60_000;
/** Names of 200 bytes or so each. */
const MOST_NAMES = 10_000;

interface Window {
  endsAt: number;
  /** Known to all, as far as we know. */
  told: number;
  /** Counted here since. */
  untold: number;
}

/**
 * Counts by name in windows of a minute, and refuses what goes beyond the limit; 0 refuses nothing. It answers out of
 * this process’s memory, so that no request waits for another server: the processes of a service tell each other now and
 * then (`tell`), between which each may let through what the others do not know of yet. Where the shared count does not
 * answer, each counts alone. The windows that began first are forgotten where there are too many. `now` is in
 * milliseconds and never goes back.
 */
export function tallyOf(perMinute: number, now: () => number, shared?: SharedCounts): Tally {
  const windows = new Map<string, Window>();
  const toTell = new Set<string>();

  function windowOf(name: string): Window {
    const at = now();
    const found = windows.get(name);
    if (found && at < found.endsAt) return found;
    const begun = { endsAt: at + WINDOW_MS, told: 0, untold: 0 };
    windows.delete(name);
    windows.set(name, begun);
    const [first] = windows.keys();
    if (windows.size > MOST_NAMES && first !== undefined) windows.delete(first);
    return begun;
  }

  function count(name: string, window: Window, by: 1 | -1): void {
    window.untold += by;
    if (shared) toTell.add(name);
  }

  async function tellOne(name: string, counts: SharedCounts): Promise<void> {
    const window = windows.get(name);
    if (!window || window.untold === 0) return;
    const telling = window.untold;
    window.told += telling;
    window.untold = 0;
    try {
      const { sum, endsInMs } = await counts.add(name, telling);
      window.told = Math.max(window.told, sum);
      window.endsAt = now() + endsInMs;
    } catch {
      // It stays counted here.
    }
  }

  return {
    perMinute,
    take(name) {
      if (perMinute === 0) return { allowed: true, left: Infinity, endsInMs: 0 };
      const window = windowOf(name);
      const left = perMinute - window.told - window.untold;
      const endsInMs = window.endsAt - now();
      if (left <= 0) return { allowed: false, left: 0, endsInMs };
      count(name, window, 1);
      return { allowed: true, left: left - 1, endsInMs };
    },
    giveBack(name) {
      const window = windows.get(name);
      if (window) count(name, window, -1);
    },
    async tell() {
      if (!shared) return;
      const names = [...toTell];
      toTell.clear();
      await Promise.all(names.map((name) => tellOne(name, shared)));
    },
  };
}
