/** Something with a length, mm. */
interface Long {
  readonly lengthMm: number;
}

/** The two longest of what was added, so that of each the longest other is known. */
export class Longest<T extends Long> {
  count = 0;
  #first: T | undefined;
  #second: T | undefined;

  add(item: T): void {
    this.count += 1;
    if (!this.#first || item.lengthMm > this.#first.lengthMm) {
      this.#second = this.#first;
      this.#first = item;
    } else if (!this.#second || item.lengthMm > this.#second.lengthMm) this.#second = item;
  }

  /** The longest that is not this one. */
  besides(item: T | undefined): T | undefined {
    return this.#first === item ? this.#second : this.#first;
  }
}
