/** A few places that clubs take in turns. */
export interface Turns {
  /**
   * A place for a club, as the way to give it back; undefined where the club has as many in hand and waiting as there are
   * places, or none becomes free in time.
   */
  take(club: string): Promise<(() => void) | undefined>;
  /** Lets everybody who waits go on, so that they hear that it is closed. */
  close(): void;
}

interface Waiting {
  club: string;
  go: (free: (() => void) | undefined) => void;
}

/** The next place goes to the club with the fewest in hand, of those to the one that has waited longest. */
export function turnsOf(places: number, waitMs: number): Turns {
  const inHand = new Map<string, number>();
  const line: Waiting[] = [];
  let taken = 0;
  const held = (club: string) => inHand.get(club) ?? 0;

  function hold(club: string): () => void {
    taken++;
    inHand.set(club, held(club) + 1);
    return () => {
      taken--;
      if (held(club) === 1) inHand.delete(club);
      else inHand.set(club, held(club) - 1);
      next();
    };
  }

  function next(): void {
    const first = line.reduce<Waiting | undefined>(
      (best, waiting) => (best && held(best.club) <= held(waiting.club) ? best : waiting),
      undefined,
    );
    if (first && taken < places) leave(first, hold(first.club));
  }

  function leave(waiting: Waiting, free: (() => void) | undefined): void {
    line.splice(line.indexOf(waiting), 1);
    waiting.go(free);
  }

  return {
    take(club) {
      const waits = line.filter((waiting) => waiting.club === club).length;
      if (held(club) + waits >= places) return Promise.resolve(undefined);
      if (taken < places && line.length === 0) return Promise.resolve(hold(club));
      return new Promise((resolve) => {
        const waiting: Waiting = {
          club,
          go: (free) => {
            clearTimeout(timer);
            resolve(free);
          },
        };
        const timer = setTimeout(() => leave(waiting, undefined), waitMs);
        line.push(waiting);
      });
    },
    close() {
      for (const waiting of [...line]) leave(waiting, () => undefined);
    },
  };
}
