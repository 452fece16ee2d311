import { describe, expect, test } from 'vitest';
import { directRow, engineRow, noRow, vanRowOf } from './rows.ts';
import { loomLinesOf, summaryOf } from './summary.ts';
import { targetsOf, type Found } from './targets.ts';

const resultOf = (found: Found, words: string) => {
  const targets = targetsOf(found).filter(({ target }) => target.includes(words));
  expect(targets.length).toBeGreaterThan(0);
  return targets.map(({ result }) => result);
};

describe('the targets', () => {
  test('say of what was not run that it was not', () => {
    expect(new Set(targetsOf({ rows: [] }).map(({ result }) => result))).toEqual(new Set(['not run']));
  });

  test('take the median of seconds: the middle of three, the mean of the middle two of four', () => {
    const rows = (...seconds: number[]) => seconds.map((cpuSeconds, seed) => engineRow({ seed, cpuSeconds }));
    const words = 'wide, plain: median at most 3 s';
    expect(resultOf({ rows: rows(1, 3, 59) }, words)).toEqual(['reached']);
    expect(resultOf({ rows: rows(1, 3, 3.1, 59) }, words)).toEqual(['missed']);
  });

  test('count seconds of processor, however long a busy machine took', () => {
    const words = 'wide, plain: all proven, each in 20 s';
    expect(resultOf({ rows: [engineRow({ cpuSeconds: 20, wallSeconds: 55 })] }, words)).toEqual(['reached']);
    expect(resultOf({ rows: [engineRow({ cpuSeconds: 20.1, wallSeconds: 15 })] }, words)).toEqual(['missed']);
  });

  test('are missed where one instance is not proven, or gave no answer', () => {
    const words = 'wide, plain: all proven';
    expect(resultOf({ rows: [engineRow()] }, words)).toEqual(['reached']);
    expect(resultOf({ rows: [engineRow(), engineRow({ seed: 2, proven: false })] }, words)).toEqual([
      'missed',
    ]);
    expect(resultOf({ rows: [engineRow(), noRow({ seed: 2 })] }, words)).toEqual(['missed']);
  });

  test('ask of a gap when it was first reached', () => {
    const row = (seconds: number | null) =>
      engineRow({ family: 'widest', gapSeconds: { '0.1': 1, '0.05': seconds, '0.01': null } });
    const words = 'widest, plain: within 0.05 % in 30 s';
    expect(resultOf({ rows: [row(30)] }, words)).toEqual(['reached']);
    expect(resultOf({ rows: [row(30.1)] }, words)).toEqual(['missed']);
    expect(resultOf({ rows: [row(null)] }, words)).toEqual(['missed']);
  });

  test('ask of looms in one order and in two', () => {
    const row = (variant: 'oneOrder' | 'twoOrders', cpuSeconds: number) =>
      engineRow({ family: 'tenLooms', variant, cpuSeconds });
    const rows = [row('oneOrder', 5), row('twoOrders', 5.1)];
    expect(resultOf({ rows }, 'ten looms, ')).toEqual(['reached', 'missed']);
  });

  test('count what the model straight did not prove as its limit', () => {
    const words = 'wide, plain: at least 10 times faster';
    const engine = engineRow({ cpuSeconds: 2 });
    expect(resultOf({ rows: [engine, directRow({ cpuSeconds: 19 })] }, words)).toEqual(['missed']);
    const stopped = directRow({ cpuSeconds: 19, proven: false });
    expect(resultOf({ rows: [engine, stopped] }, words)).toEqual(['reached']);
    expect(resultOf({ rows: [engine] }, words)).toEqual(['not run']);
  });

  test('ask of the van that its quote alone is proven in time', () => {
    const van = (quote: Parameters<typeof vanRowOf>[0]) => ({ quote: vanRowOf(quote), beside: undefined });
    const words = 'the van';
    expect(resultOf({ rows: [], van: van({ cpuSeconds: 1.5 }) }, words)).toEqual(['reached']);
    expect(resultOf({ rows: [], van: van({ cpuSeconds: 1.6 }) }, words)).toEqual(['missed']);
    expect(resultOf({ rows: [], van: van({ proven: false }) }, words)).toEqual(['missed']);
    expect(resultOf({ rows: [], van: { quote: undefined, beside: undefined } }, words)).toEqual(['missed']);
  });

  test('look for the most memory among all instances of the engine, and the van', () => {
    const rows = [engineRow({ peakRssMb: 399 }), directRow({ peakRssMb: 900 })];
    expect(resultOf({ rows }, '400 MB')).toEqual(['reached']);
    const more = [...rows, engineRow({ family: 'pool', peakRssMb: 400 })];
    expect(resultOf({ rows: more }, '400 MB')).toEqual(['missed']);
    const van = { quote: undefined, beside: vanRowOf({ peakRssMb: 400 }) };
    expect(resultOf({ rows, van }, '400 MB')).toEqual(['missed']);
  });

  test('ask of the published instances that all are right and none is slow', () => {
    const last = (right: number, worst: number) =>
      targetsOf({ rows: [], published: { instances: 200, right, worst } }).at(-1)?.result;
    expect([last(200, 2), last(200, 2.1), last(199, 1)]).toEqual(['reached', 'missed', 'missed']);
  });
});

describe('the table of families', () => {
  test('has a line for each that was run, with how many agree of those proven straight', () => {
    const rows = [
      engineRow(),
      directRow(),
      engineRow({ seed: 2 }),
      directRow({ seed: 2, proven: false }),
      engineRow({ family: 'loom', cpuSeconds: 1 }),
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

describe('the table of looms', () => {
  test('has a line for each seed of the families that are made of looms', () => {
    const looms = engineRow({ family: 'oneLoom', variant: 'twoOrders', seed: 3 });
    expect(loomLinesOf([engineRow(), looms, noRow({ family: 'oneLoom' })])).toMatchObject([
      { looms: 'one loom, two orders', seed: 3, needs: looms.holdings.needs },
    ]);
  });
});
