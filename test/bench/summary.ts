import { isSame, keyOf, pairsOf } from './agreement.ts';
import { FAMILIES, isLooms, nameOf, variantsOf } from './instances.ts';
import type { EngineRow, Row } from './row.ts';

type Cells = Record<string, string | number>;

/** A line for each family and variant that was run. */
export function summaryOf(rows: readonly Row[]): Cells[] {
  return FAMILIES.flatMap((family) =>
    variantsOf(family).flatMap((variant): Cells[] => {
      const own = rows.filter((row) => row.family === family && row.variant === variant);
      return own.some(({ by }) => by === 'engine') ? [lineOf(nameOf(family, variant), own)] : [];
    }),
  );
}

function lineOf(name: string, own: readonly Row[]): Cells {
  const engine = own.filter(({ by }) => by === 'engine');
  const answers = engine.filter(isAnswer);
  const seconds = engine.map((row) => row.cpuSeconds);
  const wall = engine.map((row) => row.wallSeconds);
  const good = answers.map((row) => row.withinOnePercentSeconds);
  const pairs = pairsOf(own).filter(({ direct }) => direct.proven);
  const ratios = ratiosOf(own);
  return {
    family: name,
    'median, CPU s': median(seconds).toFixed(2),
    'worst, CPU s': Math.max(...seconds).toFixed(2),
    'wall: median, s': median(wall).toFixed(2),
    'wall: worst, s': Math.max(...wall).toFixed(2),
    proven: `${engine.filter(({ proven }) => proven).length} of ${engine.length}`,
    'worst gap, %':
      answers.length < engine.length ? 'no answer' : worst(answers.map((row) => row.gapPercent)).toFixed(4),
    'within 1 %: median, CPU s': median(good).toFixed(2),
    'within 1 %: worst, CPU s': worst(good).toFixed(2),
    'peak RSS, MB': worst(answers.map((row) => row.peakRssMb)),
    'times faster than direct': ratios.length === 0 ? '' : median(ratios).toFixed(1),
    'same as direct': ratios.length === 0 ? '' : `${pairs.filter(isSame).length} of ${pairs.length}`,
  };
}

/** What the looms of each seed hold, and what the engine made of them. */
export function loomLinesOf(rows: readonly Row[]): Cells[] {
  return rows.filter(isAnswer).flatMap((row): Cells[] => {
    const { family, variant, seed, holdings } = row;
    if (!isLooms(family)) return [];
    return [
      {
        looms: nameOf(family, variant),
        seed,
        needs: holdings.needs,
        offers: holdings.offers,
        suppliers: holdings.suppliers,
        'cut needs': holdings.cutNeeds,
        'lengths of all': holdings.lengths,
        'of one, most': holdings.mostLengths,
        kits: holdings.kits,
        families: holdings.families,
        'by weight': holdings.byWeight,
        shelf: holdings.shelf,
        'read, CPU s': row.readSeconds.toFixed(2),
        'CPU, s': row.cpuSeconds.toFixed(2),
        'wall, s': row.wallSeconds.toFixed(2),
        proven: row.proven ? 'yes' : 'no',
        'gap, %': row.gapPercent.toFixed(4),
      },
    ];
  });
}

export function isAnswer(row: Row): row is EngineRow {
  return row.by === 'engine' && !('failed' in row);
}

/** How many times longer the model takes straight, seconds of processor: what it did not prove counts as its limit. */
export function ratiosOf(rows: readonly Row[]): number[] {
  const straight = new Map(
    rows.flatMap((row) =>
      row.by === 'direct' ? [[keyOf(row), row.proven ? row.cpuSeconds : row.limitSeconds] as const] : [],
    ),
  );
  return rows.flatMap((row) => {
    const direct = row.by === 'engine' ? straight.get(keyOf(row)) : undefined;
    return direct === undefined ? [] : [direct / row.cpuSeconds];
  });
}

/** The middle one; of two in the middle, what lies between them. NaN of none. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? NaN) + upper) / 2;
}

export const worst = (values: readonly number[]) => (values.length === 0 ? NaN : Math.max(...values));
