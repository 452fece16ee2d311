import type { DirectRow, EngineRow, Row } from './row.ts';

/** One instance as both solved it. */
export interface Pair {
  engine: EngineRow;
  direct: DirectRow;
}

/** Instances that both gave an answer to. */
export function pairsOf(rows: readonly Row[]): Pair[] {
  const straight = rows.filter((row): row is DirectRow => row.by === 'direct' && !('failed' in row));
  return rows.flatMap((engine): Pair[] => {
    if (engine.by !== 'engine' || 'failed' in engine) return [];
    const direct = straight.find((row) => keyOf(row) === keyOf(engine));
    return direct ? [{ engine, direct }] : [];
  });
}

export const keyOf = ({ family, variant, seed }: Pick<Row, 'family' | 'variant' | 'seed'>) =>
  `${family} ${variant} ${seed}`;

/** Whether both proved the same cost, unrounded. */
export function isSame({ engine, direct }: Pair): boolean {
  return engine.proven && direct.proven && engine.cost === direct.cost;
}

/**
 * What cannot be true at once, in words: two proven costs, or one below what the other has proven to be the least. Undefined:
 * nothing, though one of them may not have come to its end.
 */
export function contradictionOf({ engine, direct }: Pair): string | undefined {
  if (direct.cost === null) return undefined;
  const [cost, bound, straight] = [BigInt(engine.cost), BigInt(engine.bound), BigInt(direct.cost)];
  if (engine.proven && direct.proven && cost !== straight)
    return `proven at ${engine.costMinor} and, straight, at ${direct.costMinor}`;
  if (bound > straight)
    return `nothing is said to be below ${engine.costMinor}, but ${direct.costMinor} was found`;
  if (direct.proven && cost < straight)
    return `costs ${engine.costMinor}, below the proven ${direct.costMinor}`;
  return undefined;
}
