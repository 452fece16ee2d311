/** A few places that clubs take in turns. */
export interface Turns {
  /**
   * A place for a club, as the way to give it back; undefined where the club has as many in hand and waiting as it may, or
   * none becomes free in time.
   */
  take(club: string): Promise<(() => void) | undefined>;
  /** Lets everybody who waits go on, so that they hear that it is closed. */
  close(): void;
}

interface Waiting {
  club: string;
  go: (free: (() => void) | undefined) => void;
}

/**
 * The next place goes to the club with the fewest in hand, of those to the one that was served longest ago. `ofAClub`: how
 * many a club may have in hand and waiting, as many as there are places where it is left out.
 */
export function turnsOf(places: number, waitMs: number, ofAClub = places): Turns {
  const inHand = new Map<string, number>();
  /** When each club that has something in hand or waiting was last served, as the number of that turn. */
  const served = new Map<string, number>();
  const line: Waiting[] = [];
  let taken = 0;
  let turn = 0;
  const held = (club: string) => inHand.get(club) ?? 0;

  function hold(club: string): () => void {
    taken++;
    inHand.set(club, held(club) + 1);
    served.set(club, ++turn);
    return () => {
      taken--;
      if (held(club) === 1) inHand.delete(club);
      else inHand.set(club, held(club) - 1);
      next();
      if (held(club) === 0 && !line.some((waiting) => waiting.club === club)) served.delete(club);
    };
  }

  function isSooner(one: Waiting, other: Waiting): boolean {
    const more = held(one.club) - held(other.club);
    return more < 0 || (more === 0 && (served.get(one.club) ?? 0) < (served.get(other.club) ?? 0));
  }

  function next(): void {
    const first = line.reduce<Waiting | undefined>(
      (best, waiting) => (best && !isSooner(waiting, best) ? best : waiting),
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
      if (held(club) + waits >= ofAClub) return Promise.resolve(undefined);
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
