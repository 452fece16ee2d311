import type { Network } from './network.ts';

/** One seller's part of a plan: a link, and which of its steps. */
export type Part = readonly [link: number, step: number];

const NONE = -1;

/**
 * Ways to meet blocks, each a number: of one link or two a step each, and of more where a search finds them. Flat arrays,
 * since all of them are priced thousands of times a second.
 */
export class PlanStore {
  readonly network: Network;
  count = 0;
  firstLink = new Int32Array(1024);
  firstValue = new Float64Array(1024);
  /** −1: there is no second part. */
  secondLink = new Int32Array(1024);
  secondValue = new Float64Array(1024);
  #parts: (readonly Part[])[] = [];
  readonly #numbers = new Map<string, number>();

  constructor(network: Network) {
    this.network = network;
  }

  /** The number of a plan, which is added where it is new. */
  add(parts: readonly Part[]): number {
    const key = parts.length > 2 ? parts.map((part) => part.join(':')).join(' ') : '';
    const known = key === '' ? undefined : this.#numbers.get(key);
    if (known !== undefined) return known;
    const at = this.count++;
    if (at === this.firstLink.length) this.#grow();
    const [first, second] = parts;
    this.firstLink[at] = first?.[0] ?? NONE;
    this.firstValue[at] = this.#value(first);
    this.secondLink[at] = second?.[0] ?? NONE;
    this.secondValue[at] = this.#value(second);
    this.#parts.push(parts);
    if (key !== '') this.#numbers.set(key, at);
    return at;
  }

  parts(plan: number): readonly Part[] {
    return this.#parts[plan] ?? [];
  }

  /** Of a plan’s parts beyond the second. */
  further(plan: number): readonly Part[] {
    const parts = this.#parts[plan];
    return parts !== undefined && parts.length > 2 ? parts.slice(2) : NO_PARTS;
  }

  hasFurther(plan: number): boolean {
    return (this.#parts[plan]?.length ?? 0) > 2;
  }

  value([link, step]: Part): number {
    return this.network.steps[link]?.[step]?.value ?? 0;
  }

  #value(part: Part | undefined): number {
    return part ? this.value(part) : 0;
  }

  #grow(): void {
    const size = this.firstLink.length * 2;
    const ints = (from: Int32Array) => {
      const to = new Int32Array(size);
      to.set(from);
      return to;
    };
    const floats = (from: Float64Array) => {
      const to = new Float64Array(size);
      to.set(from);
      return to;
    };
    this.firstLink = ints(this.firstLink);
    this.secondLink = ints(this.secondLink);
    this.firstValue = floats(this.firstValue);
    this.secondValue = floats(this.secondValue);
  }
}

const NO_PARTS: readonly Part[] = [];

/** Plans that are still of use, by block: those of block b are ids[start[b]] up to ids[start[b + 1]]. */
export interface Alive {
  start: Int32Array;
  ids: Int32Array;
}

/** The plans that are kept. */
export function kept({ start, ids }: Alive, keeps: (id: number, block: number) => boolean): Alive {
  const list = new Int32Array(ids.length);
  const starts = new Int32Array(start.length);
  let count = 0;
  for (let block = 0; block < start.length - 1; block++) {
    for (let at = start[block]!; at < start[block + 1]!; at++)
      if (keeps(ids[at]!, block)) list[count++] = ids[at]!;
    starts[block + 1] = count;
  }
  return { start: starts, ids: list.slice(0, count) };
}

/** The plans with some more of some blocks. */
export function withMore({ start, ids }: Alive, more: ReadonlyMap<number, readonly number[]>): Alive {
  const list: number[] = [];
  const starts = new Int32Array(start.length);
  for (let block = 0; block < start.length - 1; block++) {
    for (let at = start[block]!; at < start[block + 1]!; at++) list.push(ids[at]!);
    list.push(...(more.get(block) ?? []));
    starts[block + 1] = list.length;
  }
  return { start: starts, ids: Int32Array.from(list) };
}

/** All plans of one seller or two. */
export function plansOfTwo(store: PlanStore): Alive {
  const { network } = store;
  const start = new Int32Array(network.blocks.length + 1);
  network.blocks.forEach(({ need, single }, block) => {
    const links = network.linksOfBlock[block] ?? new Int32Array();
    for (const link of links) {
      const steps = network.steps[link] ?? [];
      if ((steps.at(-1)?.gives ?? 0) >= need) store.add([[link, steps.length - 1]]);
    }
    if (!single)
      for (let a = 0; a < links.length; a++)
        for (let b = a + 1; b < links.length; b++) addPairs(store, links[a] ?? 0, links[b] ?? 0, need);
    start[block + 1] = store.count;
  });
  return { start, ids: Int32Array.from({ length: store.count }, (_, id) => id) };
}

/** Each step of one with the least of the other that meets the rest. */
function addPairs(store: PlanStore, one: number, other: number, need: number): void {
  const { steps } = store.network;
  const [first, second] = [steps[one] ?? [], steps[other] ?? []];
  let at = second.length - 1;
  let last = -1;
  // Fewer of the first are enough beside the same of the other: the later step is of no use.
  first.forEach((step, index) => {
    if (step.gives >= need) return;
    while (at > 0 && (second[at - 1]?.gives ?? 0) + step.gives >= need) at--;
    const rest = second[at];
    if (!rest || rest.gives >= need || rest.gives + step.gives < need || at === last) return;
    last = at;
    store.add([
      [one, index],
      [other, at],
    ]);
  });
}
