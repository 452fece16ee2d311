import { describe, expect, test } from 'vitest';
import { directRow, engineRow, noRow } from './rows.ts';
import type { Row } from './row.ts';
import { summaryOf } from './summary.ts';
import { targetsOf } from './targets.ts';

const resultOf = (rows: readonly Row[], words: string) => {
  const found = targetsOf(rows, undefined).filter(({ target }) => target.includes(words));
  expect(found.length).toBeGreaterThan(0);
  return found.map(({ result }) => result);
};

describe('the targets', () => {
  test('say of what was not run that it was not', () => {
    expect(new Set(targetsOf([], undefined).map(({ result }) => result))).toEqual(new Set(['not run']));
  });

  test('take the median of seconds: the middle of three, the mean of the middle two of four', () => {
    const rows = (...seconds: number[]) => seconds.map((took, seed) => engineRow({ seed, seconds: took }));
    expect(resultOf(rows(1, 3, 59), 'wide, plain: median at most 3 s')).toEqual(['reached']);
    expect(resultOf(rows(1, 3, 3.1, 59), 'wide, plain: median at most 3 s')).toEqual(['missed']);
  });

  test('are missed where one instance is not proven, or gave no answer', () => {
    const words = 'wide, plain: all proven in 60 s';
    expect(resultOf([engineRow()], words)).toEqual(['reached']);
    expect(resultOf([engineRow(), engineRow({ seed: 2, proven: false })], words)).toEqual(['missed']);
    expect(resultOf([engineRow(), noRow({ seed: 2 })], words)).toEqual(['missed']);
  });

  test('ask of a gap when it was first reached', () => {
    const row = (seconds: number | null) =>
      engineRow({ variant: 'correlated', gapSeconds: { '0.1': 1, '0.05': seconds, '0.01': null } });
    const words = 'wide, correlated: proven or within 0.05 % in 10 s';
    expect(resultOf([row(10)], words)).toEqual(['reached']);
    expect(resultOf([row(10.1)], words)).toEqual(['missed']);
    expect(resultOf([row(null)], words)).toEqual(['missed']);
  });

  test('count no early answer as good where nobody knows how good the last one is', () => {
    const early = { withinOnePercentSeconds: 0.1 };
    const words = 'wide, plain: an answer within 1 %';
    expect(resultOf([engineRow(early)], words)).toEqual(['reached']);
    expect(resultOf([engineRow({ ...early, proven: false, gapPercent: 7 })], words)).toEqual(['missed']);
  });

  test('count what the model straight did not prove as its limit', () => {
    const words = 'wide, plain: at least 10 times faster';
    expect(resultOf([engineRow({ seconds: 2 }), directRow({ seconds: 19 })], words)).toEqual(['missed']);
    const stopped = directRow({ seconds: 19, proven: false });
    expect(resultOf([engineRow({ seconds: 2 }), stopped], words)).toEqual(['reached']);
    expect(resultOf([engineRow()], words)).toEqual(['not run']);
  });

  test('look for the most memory among all instances of the engine', () => {
    const rows = [engineRow({ peakRssMb: 399 }), directRow({ peakRssMb: 900 })];
    expect(resultOf(rows, '400 MB')).toEqual(['reached']);
    expect(resultOf([...rows, engineRow({ family: 'pool', peakRssMb: 400 })], '400 MB')).toEqual(['missed']);
  });

  test('ask of the published instances that all are right and none is slow', () => {
    const last = (right: number, worst: number) =>
      targetsOf([], { instances: 200, right, worst }).at(-1)?.result;
    expect([last(200, 5), last(200, 5.1), last(199, 1)]).toEqual(['reached', 'missed', 'missed']);
  });
});

describe('the table of families', () => {
  test('has a line for each that was run, with how many agree of those proven straight', () => {
    const rows = [
      engineRow(),
      directRow(),
      engineRow({ seed: 2 }),
      directRow({ seed: 2, proven: false }),
      engineRow({ family: 'loom', seconds: 1 }),
    ];
    const lines = summaryOf(rows);
    expect(lines.map(({ family }) => family)).toEqual(['loom, plain', 'wide, plain']);
    expect(lines[1]).toMatchObject({
      proven: '2 of 2',
      'same as direct': '1 of 1',
      'worst gap, %': '0.0000',
    });
    // 30 s and 120 s of 2 s.
    expect(lines[1]?.['times faster than direct']).toBe('37.5');
  });
});
