/**
 * Metric PVC vehicle cable as the trade sells it, by strands of 0.30 mm: Ω/m and amps. rydertowing.co.uk, towbar wiring,
 * cable table.
 */
// prettier-ignore
const ROWS: Readonly<Record<number, { ohmPerM: number; amps: number }>> = {
  9: { ohmPerM: 0.0294, amps: 5.75 },
  14: { ohmPerM: 0.0189, amps: 8.75 },
  21: { ohmPerM: 0.0125, amps: 12.75 },
  28: { ohmPerM: 0.0094, amps: 17.5 },
  35: { ohmPerM: 0.0075, amps: 21.75 },
  44: { ohmPerM: 0.006, amps: 25.5 },
};

export const METRIC_TRADE = 'metric PVC vehicle cable, rydertowing.co.uk, cable table';

export function metricTradeRow(strands: number): { milliohmPerM: number; amps: number } | undefined {
  const row = ROWS[strands];
  return row && { milliohmPerM: row.ohmPerM * 1000, amps: row.amps };
}

/** Amps of each strand of .012 inch: 14/.012 7 A, 28/.012 14 A, 44/.012 22 A (dugdalevms.com, data of the 1950s). */
const AMPS_PER_OLD_STRAND = 0.5;

export const OLD_STRANDS = 'half an amp a strand of .012 inch, dugdalevms.com, data of the 1950s';

export function oldStrandAmps(strands: number): number {
  return strands * AMPS_PER_OLD_STRAND;
}
