import { describe, expect, test } from 'vitest';
import { addTo } from '../../worker/engine/model/group.ts';
import { valuesByFile } from './allValues.ts';
import { checkValues } from './checkValues.ts';
import { nameOf, type TradeValue } from './tradeValue.ts';

const byFile = await valuesByFile();
const values = [...byFile.values()].flat();

/** Common practice and memory are no table that a value could be looked up in. */
const isPublished = ({ source }: TradeValue) => !/no source|from memory/i.test(source);

for (const [file, ofFile] of byFile) describe(`the trade’s values of ${file}`, () => checkValues(ofFile));

test('at least 45 values are checked, of at least 15 published sources or formulas, at most four of one', () => {
  const bySource = new Map<string, string[]>();
  for (const { source, what } of values) addTo(bySource, source, what);
  const published = values.filter(isPublished);
  expect(published.length).toBeGreaterThanOrEqual(45);
  expect(new Set(published.map(({ source }) => source)).size).toBeGreaterThanOrEqual(15);
  expect([...bySource].filter(([, whats]) => whats.length > 4)).toEqual([]);
});

test('no two values have one name', () => {
  expect(new Set(values.map(nameOf)).size).toBe(values.length);
});

test('each value is checked closely enough that a constant two percent off fails it', () => {
  const loose = values.filter(
    ({ expected, within }) => typeof expected === 'number' && (within ?? 0) > Math.abs(expected) * 0.01,
  );
  expect(loose.map(({ what }) => what)).toEqual([]);
});
