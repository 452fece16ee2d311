import type { DirectRow, EngineRow, NoRow } from './row.ts';
import type { VanRow } from './vanRow.ts';

const WIDE = {
  family: 'wide',
  variant: 'plain',
  seed: 1,
  wallSeconds: 40,
  limitSeconds: 60,
  peakRssMb: 200,
} as const;

const HOLDINGS = {
  ...{ needs: 60, offers: 1_200, suppliers: 40, orders: 1, cutNeeds: 0, mostLengths: 0, lengths: 0 },
  ...{ kits: 0, families: 0, byWeight: 0, shelf: 0 },
};

/** A proven answer; what is given replaces. */
export function engineRow(given: Partial<EngineRow> = {}): EngineRow {
  return {
    ...WIDE,
    by: 'engine',
    cpuSeconds: 2,
    readSeconds: 0.5,
    holdings: HOLDINGS,
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
    cpuSeconds: 30,
    proven: true,
    costMinor: 1000,
    cost: '10000000000',
    ...given,
  };
}

export function noRow(given: Partial<NoRow> = {}): NoRow {
  const { peakRssMb: _, ...wide } = WIDE;
  return { ...wide, by: 'engine', cpuSeconds: 60, proven: false, failed: 'killed', ...given };
}

/** The van’s quote alone, proven. */
export function vanRowOf(given: Partial<VanRow> = {}): VanRow {
  return {
    ...{ cpuSeconds: 1, wallSeconds: 3, besideSeconds: 0, peakRssMb: 200, proven: true, gapPercent: 0 },
    ...{ beside: [], losing: 0, fallsKnown: 0 },
    ...given,
  };
}
