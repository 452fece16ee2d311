import { describe, expect, test } from 'vitest';
import { knowledgeOver } from './known.ts';

/** What is heard at these seconds, and how it ends. */
function heardAt(
  told: readonly { at: number; best?: number; bound?: number }[],
  end: { best: number; bound: number; seconds: number },
) {
  let now = 0;
  const known = knowledgeOver(() => now);
  for (const { at, best, bound } of told) {
    now = at;
    known.heard({ best, bound });
  }
  return known.ended(end);
}

describe('what a solve knew at each time', () => {
  test('tells the first answer, how far it was off, and the first within 1 %', () => {
    const found = heardAt(
      [
        { at: 1, bound: 500 },
        { at: 2, best: 1250 },
        { at: 3, best: 1010 },
        { at: 4, best: 1005 },
      ],
      { best: 1000, bound: 1000, seconds: 9 },
    );
    expect(found.firstSeconds).toBe(2);
    expect(found.firstGapPercent).toBe(20);
    expect(found.withinOnePercentSeconds).toBe(3);
    expect(found.gapPercent).toBe(0);
  });

  test('tells when best and bound first came so near, though they were heard apart', () => {
    const found = heardAt(
      [
        { at: 1, best: 10_000 },
        { at: 2, bound: 9_992 },
        { at: 3, bound: 9_000 },
      ],
      { best: 10_000, bound: 9_996, seconds: 9 },
    );
    expect(found.gapSeconds).toEqual({ '0.1': 2, '0.05': 9, '0.01': null });
  });

  test('has the end for its first answer where nothing was heard before', () => {
    const found = heardAt([], { best: 7, bound: 7, seconds: 3 });
    expect([found.firstSeconds, found.withinOnePercentSeconds, found.gapSeconds['0.01']]).toEqual([3, 3, 3]);
  });
});
