import { lotsOf, mostWithin, type Item } from './fillTable.ts';
import { BETTER_FILLING, ROUNDED_SUM } from '../solver/tolerances.ts';

/** A filling of one length that is worth about the most. */
export interface Filling {
  worth: number;
  counts: number[];
  /** No filling is worth more. */
  most: number;
}

/** So many of one item, taken together or not at all. */
interface Lot {
  item: number;
  size: number;
  value: number;
}

/**
 * A filling of one length that is worth the most, or less than that by no more than a share `slack` of it, without a table over its size:
 * the time grows with how many fillings come near to the best. Exact where values are whole numbers whose sum is below 2^53,
 * else to a share of the worth (`BETTER_FILLING`).
 * Pisinger, A minimal algorithm for the bounded knapsack problem, INFORMS Journal on Computing 12 (2000): items by value
 * a size; the length is filled in that order until one does not go in, and from there on items are added and taken out in
 * turn, keeping of what has been tried only what may still come to be worth more than the best.
 */
export function bestFilling(items: readonly Item[], size: number, slack = 0): Filling {
  const free = items.map((item) => (item.size === 0 && item.value > 0 ? item.count : 0));
  const lots = lotsByDensity(items, size);
  const isWhole = items.every(({ value }) => Number.isInteger(value));
  const { taken, above } = new Core(lots, size, isWhole, slack).best();
  const counts = [...free];
  lots.forEach(({ item, size: whole }, at) => {
    if (taken[at]) counts[item] = (counts[item] ?? 0) + whole / (items[item]?.size ?? 1);
  });
  const worth = counts.reduce((sum, count, at) => sum + count * (items[at]?.value ?? 0), 0);
  return { worth, counts, most: worth + above };
}

function lotsByDensity(items: readonly Item[], size: number): Lot[] {
  return items
    .flatMap((item, at) =>
      item.size > 0 && item.value > 0 && mostWithin(item.size, item.count, size) > 0
        ? lotsOf(item, size).map((lot): Lot => ({ item: at, ...lot }))
        : [],
    )
    .sort((a, b) => b.value * a.size - a.value * b.size || b.size - a.size || a.item - b.item);
}

/** What has been tried: sizes ascending, and values with them, as what is larger and worth no more is of no use. */
class States {
  size = new Float64Array(64);
  value = new Float64Array(64);
  /** The last change that led to each, in the core's list of changes. */
  change = new Int32Array(64);
  length = 0;

  push(size: number, value: number, change: number): void {
    if (this.length === this.size.length) {
      const [sizes, values, changes] = [this.size, this.value, this.change];
      this.size = new Float64Array(2 * this.length);
      this.value = new Float64Array(2 * this.length);
      this.change = new Int32Array(2 * this.length);
      this.size.set(sizes);
      this.value.set(values);
      this.change.set(changes);
    }
    this.size[this.length] = size;
    this.value[this.length] = value;
    this.change[this.length] = change;
    this.length++;
  }
}

class Core {
  readonly #lots: readonly Lot[];
  readonly #size: number;
  readonly #isWhole: boolean;
  readonly #share: number;
  /** Less than the best by so much is good enough. */
  #slack = 0;
  /** The most that something could still have come to be worth which was not kept. */
  #passed = 0;
  #states = new States();
  #next = new States();
  /** Each change: the one before it, and the lot that was put in or taken out. */
  readonly #before: number[] = [];
  readonly #changed: number[] = [];
  #best = 0;
  /** What a state must be able to reach to be kept. */
  #least = 0;
  #bestTaken: () => boolean[] = () => [];

  constructor(lots: readonly Lot[], size: number, isWhole: boolean, share: number) {
    this.#share = share;
    this.#lots = lots;
    this.#size = size;
    this.#isWhole = isWhole;
  }

  /** Which lots are in the filling that was found, and by how much another may be worth more. */
  best(): { taken: boolean[]; above: number } {
    const most = Math.min(this.#search(), this.#passed) * (1 + ROUNDED_SUM);
    const above = this.#slack === 0 ? 0 : Math.max(0, Math.min(most - this.#best, this.#slack));
    return { taken: this.#bestTaken(), above: this.#isWhole ? Math.floor(above) : above };
  }

  /** Returns what no filling is worth more than, by what a size is worth of the first lot that does not go in whole. */
  #search(): number {
    const lots = this.#lots;
    let [filled, worth, first] = [0, 0, 0];
    for (let lot; (lot = lots[first]) && filled + lot.size <= this.#size; first++) {
      filled += lot.size;
      worth += lot.value;
    }
    this.#takeGreedily(first, filled, worth);
    if (first === lots.length) return worth;
    const each = densityOf(lots[first]);
    const bound = worth + each * (this.#size - filled);
    const slack = bound * this.#share;
    this.#slack = this.#isWhole ? Math.floor(slack) : slack;
    this.#found(this.#best, this.#bestTaken);
    this.#states.push(filled, worth, -1);
    // Of a lot to be put in or taken out: whether something better may come of it at all.
    const mayHelp = (reach: number) => {
      if (reach >= this.#least) return true;
      this.#passed = Math.max(this.#passed, reach);
      return false;
    };
    let [left, right] = [first - 1, first];
    while (this.#states.length > 0 && (left >= 0 || right < lots.length) && bound >= this.#least) {
      const added = lots[right];
      if (added) {
        right++;
        if (mayHelp(bound + added.value - each * added.size)) this.#change(right - 1, 1, left, right);
      }
      const removed = lots[left];
      if (removed) {
        left--;
        if (mayHelp(bound - removed.value + each * removed.size)) this.#change(left + 1, -1, left, right);
      }
    }
    if (bound < this.#least || this.#states.length > 0) this.#passed = bound;
    return bound;
  }

  #found(worth: number, taken: () => boolean[]): void {
    this.#best = worth;
    this.#least = this.#isWhole
      ? (worth + 1 + this.#slack) * (1 - ROUNDED_SUM)
      : worth * (1 + BETTER_FILLING) + this.#slack;
    this.#bestTaken = taken;
  }

  /** What goes in by the order of the lots, those that do not go in being passed over. */
  #takeGreedily(first: number, filled: number, worth: number): void {
    const greedy = this.#lots.map((_, at) => at < first);
    let [size, value] = [filled, worth];
    for (let at = first; at < this.#lots.length; at++) {
      const lot = this.#lots[at];
      if (!lot || size + lot.size > this.#size) continue;
      greedy[at] = true;
      size += lot.size;
      value += lot.value;
    }
    this.#found(value, () => greedy);
    this.#first = first;
  }

  /** So many lots stand in the filling that all changes begin from. */
  #first = 0;

  /** Each state as it is and with the lot put in or taken out, without what cannot become better than the best. */
  #change(at: number, sign: 1 | -1, left: number, right: number): void {
    const lot = this.#lots[at];
    if (!lot) return;
    const [size, value] = [sign * lot.size, sign * lot.value];
    const [more, less] = [densityOf(this.#lots[right]), densityOf(this.#lots[left])];
    const mayRemove = left >= 0;
    const { size: sizes, value: values, change: changes, length } = this.#states;
    const next = this.#next;
    next.length = 0;
    let highest = -Infinity;
    let passed = this.#passed;
    let [plain, other] = [0, 0];
    while (plain < length || other < length) {
      // Of two of one size the one worth more comes first.
      const plainSize = plain < length ? sizes[plain]! : Infinity;
      const otherSize = other < length ? sizes[other]! + size : Infinity;
      const isPlain =
        plainSize < otherSize || (plainSize === otherSize && values[plain]! >= values[other]! + value);
      const ownSize = isPlain ? plainSize : otherSize;
      const ownValue = isPlain ? values[plain]! : values[other]! + value;
      const before = isPlain ? changes[plain]! : changes[other]!;
      if (isPlain) plain++;
      else other++;
      if (ownValue <= highest) continue;
      highest = ownValue;
      const room = this.#size - ownSize;
      const change = isPlain ? before : undefined;
      if (room >= 0 && ownValue > this.#best) {
        const found = change ?? this.#note(before, at);
        this.#found(ownValue, () => this.#takenBy(found));
        const reach = ownValue + room * more;
        if (reach >= this.#least) next.push(ownSize, ownValue, found);
        else if (reach > passed) passed = reach;
        continue;
      }
      const reach = room >= 0 ? ownValue + room * more : mayRemove ? ownValue + room * less : 0;
      if (reach >= this.#least) next.push(ownSize, ownValue, change ?? this.#note(before, at));
      else if (reach > passed) passed = reach;
    }
    this.#passed = passed;
    [this.#states, this.#next] = [next, this.#states];
  }

  #note(before: number, lot: number): number {
    this.#before.push(before);
    this.#changed.push(lot);
    return this.#before.length - 1;
  }

  #takenBy(change: number): boolean[] {
    const taken = this.#lots.map((_, at) => at < this.#first);
    for (let at = change; at >= 0; at = this.#before[at] ?? -1) {
      const lot = this.#changed[at] ?? 0;
      taken[lot] = lot >= this.#first;
    }
    return taken;
  }
}

function densityOf(lot: Lot | undefined): number {
  return lot ? lot.value / lot.size : 0;
}
