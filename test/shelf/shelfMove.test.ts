import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MovementIn } from '../../worker/engine/model/movement.ts';
import { codeAfter, move, offcutCode, type Move } from '../../worker/engine/model/shelfMove.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';

const hank = StockItem.parse({ code: 'brown', form: 'length', part: 'wire-brown', count: 2, lengthMm: 5000 });
const rings = StockItem.parse({ code: 'rings', form: 'pieces', part: 'ring-6', count: 10 });
/** What is worth keeping, mm; nothing is kept for others. */
const least = { offcutMinimumMm: 500, keptForOthers: 0 };
const asked = (what: object) => MovementIn.parse(what);
const done = (what: Move | object): Move => {
  expect(what).toHaveProperty('moved');
  return what as Move;
};

describe('a length that is cut', () => {
  test('leaves a piece of its true length, and one length less', () => {
    const cut = done(move(hank, asked({ kind: 'cut', piecesMm: [1200, 600] }), least));
    expect(cut.item.count).toBe(1);
    expect(cut.offcut).toEqual({ lengthMm: 3200 });
    expect(cut.moved).toMatchObject({ kind: 'cut', change: -1, body: { offcutMm: 3200, lengthMm: 5000 } });
  });

  test('leaves what was measured, where that is less', () => {
    const cut = done(move(hank, asked({ kind: 'cut', piecesMm: [1200], offcutMm: 3790 }), least));
    expect(cut.offcut).toEqual({ lengthMm: 3790 });
  });

  test('says what it drops where the rest is shorter than what is worth keeping', () => {
    const cut = done(move(hank, asked({ kind: 'cut', piecesMm: [4501] }), least));
    expect([cut.offcut, cut.droppedMm]).toEqual([undefined, 499]);
    expect(done(move(hank, asked({ kind: 'cut', piecesMm: [4500] }), least)).offcut).toEqual({
      lengthMm: 500,
    });
  });

  test('leaves nothing to say where it is used up', () => {
    const cut = done(move(hank, asked({ kind: 'cut', piecesMm: [5000] }), { ...least, offcutMinimumMm: 0 }));
    expect([cut.offcut, cut.droppedMm]).toEqual([undefined, undefined]);
  });

  test('is refused where the pieces are longer than it is, though two lengths together would do', () => {
    expect(move(hank, asked({ kind: 'cut', piecesMm: [3000, 2001] }), least)).toMatchObject({
      code: 'cut-too-long',
      found: '5001 mm together',
      limit: '5000 mm',
    });
  });

  test('cannot leave more than it had', () => {
    expect(move(hank, asked({ kind: 'cut', piecesMm: [4000], offcutMm: 1001 }), least)).toMatchObject({
      code: 'offcut-too-long',
      limit: '1000 mm',
    });
  });
});

test('what is counted is not cut', () => {
  expect(move(rings, asked({ kind: 'cut', piecesMm: [1] }), least)).toMatchObject({ code: 'not-a-length' });
});

test('no more is used than is there', () => {
  expect(move(rings, asked({ kind: 'used', count: 11 }), least)).toMatchObject({
    code: 'not-so-many',
    limit: '10',
  });
  expect(done(move(rings, asked({ kind: 'used', count: 10 }), least)).item.count).toBe(0);
  const empty = { ...hank, count: 0 };
  expect(move(empty, asked({ kind: 'cut', piecesMm: [1] }), least)).toMatchObject({ code: 'not-so-many' });
});

test('of what is kept for others nothing is used or cut, but it can be lost', () => {
  const others = { ...least, keptForOthers: 8 };
  const use = (count: number) => move(rings, asked({ kind: 'used', count }), others);
  expect(done(use(2)).item.count).toBe(8);
  expect(use(3)).toMatchObject({ code: 'kept-for-others', limit: '2' });
  expect(move(hank, asked({ kind: 'cut', piecesMm: [1] }), { ...least, keptForOthers: 2 })).toMatchObject({
    code: 'kept-for-others',
    limit: '0',
  });
  expect(done(move(rings, asked({ kind: 'lost', count: 9, reason: 'fell' }), others)).item.count).toBe(1);
});

test('any movements in a row leave the count that they add up to, and never less than nothing', () => {
  const movement = fc.oneof(
    fc.record({ kind: fc.constantFrom('found', 'used'), count: fc.integer({ min: 1, max: 8 }) }),
    fc.record({
      kind: fc.constant('lost'),
      count: fc.integer({ min: 1, max: 8 }),
      reason: fc.constant('gone'),
    }),
    fc.record({
      kind: fc.constant('counted'),
      count: fc.integer({ min: 0, max: 8 }),
      reason: fc.constant('seen'),
    }),
    fc.record({ kind: fc.constant('moved'), place: fc.constant('shed') }),
    fc.record({
      kind: fc.constant('cut'),
      piecesMm: fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: 1 }),
    }),
  );
  fc.assert(
    fc.property(fc.constantFrom(hank, rings), fc.array(movement, { maxLength: 30 }), (start, movements) => {
      let item = start;
      let sum = start.count;
      for (const each of movements) {
        const made = move(item, asked(each), least);
        if (!('moved' in made)) continue;
        sum += made.moved.change;
        item = made.item;
        expect(item.count).toBe(sum);
        expect(StockItem.safeParse(item).success).toBe(true);
        if (made.moved.kind === 'cut' && item.form === 'length') {
          const taken = (made.moved.body.piecesMm ?? []).reduce((all, piece) => all + piece, 0);
          expect(taken + (made.offcut?.lengthMm ?? made.droppedMm ?? 0)).toBe(item.lengthMm);
        }
      }
    }),
    { numRuns: 2000 },
  );
});

describe('the code of an offcut', () => {
  test('is that of its length with its own millimetres', () => {
    expect(offcutCode(hank, 5000, { lengthMm: 3200 })).toBe('brown-3200');
    const offcut = { ...hank, code: 'brown-3200', lengthMm: 3200 };
    expect(offcutCode(offcut, 3200, { lengthMm: 1100 })).toBe('brown-1100');
  });

  test('is never one that stands for something else, nor too long', () => {
    expect(codeAfter('brown-3200', new Set(['brown-3200', 'brown-3200.2']))).toBe('brown-3200.3');
    const long = { ...hank, code: 'x'.repeat(64) };
    const code = codeAfter(offcutCode(long, 5000, { lengthMm: 99_999_999 }), new Set());
    expect(StockItem.safeParse({ ...hank, code }).success).toBe(true);
  });
});
