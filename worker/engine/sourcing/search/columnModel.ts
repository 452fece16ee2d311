import type { MilpModel } from '../../solver/model.ts';
import type { LpColumn } from '../../solver/warmLp.ts';

/** A whole-number model out of columns: rows in their order, then one that holds the cost under a limit. */
export function modelOf(
  limits: readonly { lower: number; upper: number }[],
  columns: readonly (LpColumn & { whole: boolean })[],
  most: number,
): MilpModel {
  const costRow = limits.length;
  const lists: [number, number][][] = Array.from({ length: costRow + 1 }, () => []);
  columns.forEach(({ cost, entries }, column) => {
    for (const [row, value] of entries) lists[row]!.push([column, value]);
    if (cost !== 0) lists[costRow]!.push([column, cost]);
  });
  const kept = lists.flatMap((list, row) => (list.length > 0 || row < costRow ? [row] : []));
  const starts = [0];
  const indices: number[] = [];
  const coefficients: number[] = [];
  for (const row of kept) {
    for (const [column, value] of lists[row]!) {
      indices.push(column);
      coefficients.push(value);
    }
    starts.push(indices.length);
  }
  const all = [...limits, { lower: -Infinity, upper: most }];
  return {
    colCost: columns.map(({ cost }) => cost),
    colLower: columns.map(({ lower }) => lower),
    colUpper: columns.map(({ upper }) => upper),
    rowLower: kept.map((row) => all[row]!.lower),
    rowUpper: kept.map((row) => all[row]!.upper),
    starts,
    indices,
    coefficients,
    continuous: columns.flatMap(({ whole }, column) => (whole ? [] : [column])),
  };
}
