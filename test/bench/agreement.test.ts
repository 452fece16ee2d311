import { describe, expect, test } from 'vitest';
import { contradictionOf, isSame, pairsOf } from './agreement.ts';
import { directRow, engineRow, noRow } from './rows.ts';

describe('what the engine and the model straight say of one instance', () => {
  test('is the same where both prove one cost', () => {
    const pair = { engine: engineRow(), direct: directRow() };
    expect(isSame(pair)).toBe(true);
    expect(contradictionOf(pair)).toBeUndefined();
  });

  test('is put together by family, prices and seed; what has no answer has no pair', () => {
    const rows = [engineRow(), directRow(), engineRow({ seed: 2 }), noRow({ by: 'direct', seed: 2 })];
    expect(pairsOf(rows)).toEqual([{ engine: rows[0], direct: rows[1] }]);
  });

  test.each([
    ['two proven costs', engineRow(), directRow({ cost: '10000000001' })],
    ['a cost below the proven least', engineRow({ proven: false, cost: '9', bound: '1' }), directRow()],
    ['a bound above what was found', engineRow(), directRow({ proven: false, cost: '9999999999' })],
  ])('contradicts itself by %s', (_, engine, direct) => {
    expect(contradictionOf({ engine, direct })).toBeTypeOf('string');
    expect(isSame({ engine, direct })).toBe(false);
  });

  test('does not where one of them came to no end', () => {
    const open = engineRow({ proven: false, cost: '10000000009', bound: '9' });
    expect(contradictionOf({ engine: open, direct: directRow() })).toBeUndefined();
    expect(
      contradictionOf({ engine: open, direct: directRow({ proven: false, cost: null }) }),
    ).toBeUndefined();
    expect(isSame({ engine: open, direct: directRow() })).toBe(false);
  });
});
