/** Work that waits for its turn. */
interface Waiting<T> {
  owner: string;
  begin: () => Promise<T>;
  settle: (done: Promise<T>) => void;
}

/**
 * Turns among owners: at most `atOnce` pieces of work are in hand, of one owner one at a time, and of those that wait the next
 * is of the owner whose last turn is longest ago. So one owner's work keeps another's waiting for one piece at the most.
 */
export class Turns {
  readonly #atOnce: number;
  readonly #waiting: Waiting<unknown>[] = [];
  /** Owners with work in hand. */
  readonly #busy = new Set<string>();
  /** Owners by their last turn, the latest at the end; only of those with work. */
  readonly #order = new Set<string>();

  constructor(atOnce: number) {
    this.#atOnce = atOnce;
  }

  /** Does the work when its turn comes. */
  take<T>(owner: string, begin: () => Promise<T>): Promise<T> {
    return new Promise<T>((resolve) => {
      this.#waiting.push({ owner, begin, settle: resolve as (done: Promise<unknown>) => void });
      this.#next();
    });
  }

  #next(): void {
    while (this.#busy.size < this.#atOnce) {
      const free = this.#waiting.filter(({ owner }) => !this.#busy.has(owner));
      const last = (owner: string) => [...this.#order].indexOf(owner);
      const next = free.reduce<Waiting<unknown> | undefined>(
        (best, each) => (best === undefined || last(each.owner) < last(best.owner) ? each : best),
        undefined,
      );
      if (!next) return;
      this.#waiting.splice(this.#waiting.indexOf(next), 1);
      this.#busy.add(next.owner);
      this.#order.delete(next.owner);
      this.#order.add(next.owner);
      const done = next.begin();
      next.settle(done);
      const over = () => {
        this.#busy.delete(next.owner);
        if (!this.#waiting.some(({ owner }) => owner === next.owner)) this.#order.delete(next.owner);
        this.#next();
      };
      done.then(over, over);
    }
  }
}
