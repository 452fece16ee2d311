import type { DirectRow, EngineRow, NoRow } from './row.ts';

const WIDE = { family: 'wide', variant: 'plain', seed: 1, limitSeconds: 60, peakRssMb: 200 } as const;

/** A proven answer; what is given replaces. */
export function engineRow(given: Partial<EngineRow> = {}): EngineRow {
  return {
    ...WIDE,
    by: 'engine',
    seconds: 2,
    proven: true,
    costMinor: 1000,
    cost: '10000000000',
    bound: '10000000000',
    gapPercent: 0,
    firstSeconds: 0.1,
    firstGapPercent: 5,
    withinOnePercentSeconds: 0.2,
    gapSeconds: { '0.1': 1, '0.05': 1.5, '0.01': 2 },
    ...given,
  };
}

export function directRow(given: Partial<DirectRow> = {}): DirectRow {
  return {
    ...WIDE,
    by: 'direct',
    limitSeconds: 120,
    seconds: 30,
    proven: true,
    costMinor: 1000,
    cost: '10000000000',
    ...given,
  };
}

export function noRow(given: Partial<NoRow> = {}): NoRow {
  const { peakRssMb: _, ...wide } = WIDE;
  return { ...wide, by: 'engine', seconds: 60, proven: false, failed: 'killed', ...given };
}
