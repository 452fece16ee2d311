import { expect, test } from 'vitest';
import { isMet, type TradeValue } from './tradeValue.ts';

/** A test of each value, with its source in its name. */
export function checkValues(values: readonly TradeValue[]): void {
  test.each(values)('$source: $what is $expected', (value) => {
    const got = value.got();
    expect(isMet(value, got), `the engine says ${got}`).toBe(true);
  });
}
