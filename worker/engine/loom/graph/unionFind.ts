/** Sets of whole numbers 0, 1, 2 … that grow together. */
export class UnionFind {
  readonly #leader: number[] = [];

  /** A new number in a set of its own. */
  add(): number {
    this.#leader.push(this.#leader.length);
    return this.#leader.length - 1;
  }

  /** The one number that stands for the set of this one. */
  find(member: number): number {
    let root = member;
    for (let up = this.#up(root); up !== root; up = this.#up(root)) root = up;
    // The way up is shortened for the next that asks.
    for (let low = member; low !== root;) {
      const up = this.#up(low);
      this.#leader[low] = root;
      low = up;
    }
    return root;
  }

  /** Makes one set of two; false where they were one already. */
  join(a: number, b: number): boolean {
    const [one, other] = [this.find(a), this.find(b)];
    if (one === other) return false;
    this.#leader[other] = one;
    return true;
  }

  #up(member: number): number {
    return this.#leader[member] ?? member;
  }
}
