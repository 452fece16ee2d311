import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Offer } from '../../worker/engine/model/offer.ts';
import {
  inTime,
  knownSince,
  priceOn,
  putBefore,
  putIn,
  type Kept,
  type KeptPrice,
} from '../../worker/engine/model/priceHistory.ts';
import { plusDays } from '../../worker/engine/units/day.ts';

const FIRST = '2026-01-01';
const day = (at: number) => plusDays(FIRST, at);
const offer = (price: number, seenOn?: string): Offer =>
  Offer.parse({
    form: 'pack',
    code: 'ring-pack',
    supplier: 'shop',
    part: 'ring-6',
    packCount: 10,
    packPrice: { amount: `${price}.00`, currency: 'GBP' },
    ...(seenOn === undefined ? {} : { seenOn }),
  });
const amountOf = (kept: KeptPrice | undefined) =>
  kept?.body.form === 'pack' ? Number(kept.body.packPrice.amount) : undefined;

/** A history as a store keeps it. */
class History {
  rows: KeptPrice[] = [];

  #apply({ add, change }: Kept): void {
    const changed = new Map(change.map((each) => [each.number, each]));
    this.rows = [...this.rows.map((row) => changed.get(row.number) ?? row), ...add];
  }
  get end() {
    const [newest, previous] = inTime(this.rows).reverse();
    return { newest, previous, next: Math.max(0, ...this.rows.map(({ number }) => number)) + 1 };
  }
  put(body: Offer, today: string): void {
    this.#apply(putIn(this.end, body, today));
  }
  keep(body: Offer, on: string): void {
    this.#apply(putBefore(this.rows, body, on));
  }
  remove(today: string): void {
    const { newest } = this.end;
    if (newest) this.#apply({ add: [], change: [{ ...newest, goneOn: today }] });
  }
}

/** What was seen on which day, one by one; of a day the last one holds. Nothing: the offer was removed. */
class Model {
  readonly #wipes: boolean;
  seen: { day: number; price: number | undefined }[] = [];

  constructor(wipes: boolean) {
    this.#wipes = wipes;
  }
  get order() {
    return this.seen.map((each, at) => ({ ...each, at })).sort((a, b) => a.day - b.day || a.at - b.at);
  }
  on(at: number): number | undefined {
    return this.order.findLast((each) => each.day <= at)?.price;
  }
  /**
   * Of days between the first and the last on which one price was seen, another price wipes the memory. What is kept of the
   * day of a removal came before it.
   */
  keep(at: number, price: number): void {
    const order = this.order;
    const end = order.findLastIndex((each) => each.day <= at);
    const isGone = order[end]?.day === at && order[end].price === undefined;
    const last = isGone ? end - 1 : end;
    const held = order[last];
    const own = { day: at, price };
    const ends: number[] = [];
    if (this.#wipes && held?.price !== undefined && held.price !== price) {
      let [from, to] = [last, last];
      while (order[from - 1]?.price === held.price) from--;
      while (order[to + 1]?.price === held.price) to++;
      ends.push(order[from]?.day ?? 0, order[to]?.day ?? 0);
      if ((ends[0] ?? 0) <= at && at < (ends[1] ?? 0))
        for (const each of order.slice(from, to + 1))
          if (!ends.includes(each.day)) this.seen[each.at] = { day: NaN, price: 0 };
    }
    if (isGone) this.seen.splice(order[end]?.at ?? 0, 0, own);
    else this.seen.push(own);
    this.seen = this.seen.filter((each) => !Number.isNaN(each.day));
  }
}

const steps = fc.array(
  fc.record({
    what: fc.constantFrom('put', 'put', 'put', 'keep', 'keep', 'remove'),
    price: fc.integer({ min: 1, max: 3 }),
    later: fc.integer({ min: 0, max: 4 }),
    back: fc.integer({ min: 1, max: 12 }),
  }),
  { maxLength: 30 },
);

test('after any changes the history says of every day what was seen last up to it', () => {
  fc.assert(
    fc.property(steps, (all) => {
      const history = new History();
      // One remembers every day, the other forgets at each chance: what is kept is one of them.
      const models = [new Model(false), new Model(true)] as const;
      let now = 20;
      let isThere = false;
      for (const { what, price, later, back } of all) {
        now += later;
        if (what === 'put') {
          history.put(offer(price, day(now)), day(now));
          for (const { seen } of models) seen.push({ day: now, price });
          isThere = true;
        } else if (what === 'remove' && isThere) {
          history.remove(day(now));
          for (const { seen } of models) seen.push({ day: now, price: undefined });
          isThere = false;
        } else if (what === 'keep' && isThere) {
          const on = now - back;
          const body = offer(price, day(on));
          if (knownSince(history.end, body) === undefined) continue;
          history.keep(body, day(on));
          for (const model of models) model.keep(on, price);
        }
      }
      for (let at = 0; at <= now + 1; at++)
        expect(models.map((model) => model.on(at))).toContain(amountOf(priceOn(history.rows, day(at))));
      expect(new Set(history.rows.map(({ number }) => number)).size).toBe(history.rows.length);
      for (const { first, last, goneOn } of history.rows) {
        expect(first <= last).toBe(true);
        expect(goneOn === undefined || last <= goneOn).toBe(true);
      }
      const newest = history.end.newest;
      expect(isThere).toBe(newest !== undefined && newest.goneOn === undefined);
    }),
    { numRuns: 300 },
  );
});

describe('a price of which nobody said when it was seen', () => {
  test('counts from the day on which it was put in, and stays while it is put in again', () => {
    const history = new History();
    history.put(offer(1), day(3));
    history.put(offer(1), day(9));
    expect(history.rows).toMatchObject([{ first: day(3), last: day(3), seen: false }]);
  });

  test('is moved to the day on which it turns out to have been seen', () => {
    const history = new History();
    history.put(offer(1), day(9));
    history.put(offer(1, day(4)), day(10));
    expect(history.rows).toMatchObject([{ first: day(4), last: day(4), seen: true }]);
  });

  test('did not come after the one that takes its place, nor before the one that it follows', () => {
    const history = new History();
    history.put(offer(1, day(5)), day(5));
    history.put(offer(2), day(9));
    history.put(offer(3, day(7)), day(10));
    expect(inTime(history.rows).map((each) => [amountOf(each), each.first])).toEqual([
      [1, day(5)],
      [2, day(7)],
      [3, day(7)],
    ]);
    expect(amountOf(priceOn(history.rows, day(8)))).toBe(3);
  });

  test('is no newer price that is known', () => {
    const history = new History();
    history.put(offer(1), day(9));
    expect(knownSince(history.end, offer(2, day(4)))).toBeUndefined();
    history.put(offer(2, day(10)), day(10));
    expect(knownSince(history.end, offer(2, day(4)))).toBe(day(10));
  });
});

test('words about an offer are no price: a note, a link, a description', () => {
  const history = new History();
  history.put(offer(1, day(1)), day(1));
  history.put({ ...offer(1, day(2)), note: 'as on the list', description: 'Ring' }, day(2));
  expect(history.rows).toMatchObject([{ first: day(1), last: day(2) }]);
  history.put({ ...offer(1, day(3)), leadDays: 4 }, day(3));
  expect(history.rows).toHaveLength(2);
});
