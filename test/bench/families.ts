import { contradictionOf, keyOf, pairsOf } from './agreement.ts';
import { solvedApart } from './child.ts';
import { limitFor, type Flags } from './flags.ts';
import { FAMILIES, variantsOf, type Instance } from './instances.ts';
import type { Row } from './row.ts';
import { loomLinesOf, summaryOf } from './summary.ts';

/**
 * The families, one instance and one process at a time; `row` is told of each. How far it has come goes to the standard
 * error, so that the tables stand alone.
 */
export async function solvedFamilies(flags: Flags, row: (row: Row) => void): Promise<void> {
  for (const instance of instancesOf(flags)) {
    await solved(instance, 'engine', limitFor(instance.family, flags), row);
    if (flags.directSeconds > 0) await solved(instance, 'direct', flags.directSeconds, row);
  }
}

async function solved(
  instance: Instance,
  by: Row['by'],
  seconds: number,
  tell: (row: Row) => void,
): Promise<void> {
  const row = await solvedApart(instance, by, seconds);
  const end =
    'failed' in row
      ? row.failed
      : `${row.cpuSeconds.toFixed(2)} s of processor${row.proven ? '' : ', not proven'}`;
  console.error(`${keyOf(instance)} ${by}: ${end}`);
  tell(row);
}

function instancesOf({ only, seeds }: Flags): Instance[] {
  return FAMILIES.filter((family) => only.has(family)).flatMap((family) =>
    variantsOf(family).flatMap((variant) => seeds.map((seed) => ({ family, variant, seed }))),
  );
}

/** Prints them by family; whether nothing in them contradicts itself. */
export function printFamilies(rows: readonly Row[]): boolean {
  console.log(
    'The engine, each instance in a process of its own, beside the model given straight to the solver',
  );
  console.table(summaryOf(rows));
  const looms = loomLinesOf(rows);
  if (looms.length > 0) {
    console.log('What the looms hold, and what the engine made of them');
    console.table(looms);
  }
  const failed = rows.flatMap((row) =>
    'failed' in row ? [{ instance: keyOf(row), by: row.by, failed: row.failed }] : [],
  );
  if (failed.length > 0) {
    console.log('Without an answer');
    console.table(failed);
  }
  const apart = pairsOf(rows).flatMap((pair) => {
    const contradiction = contradictionOf(pair);
    return contradiction === undefined ? [] : [{ instance: keyOf(pair.engine), contradiction }];
  });
  if (apart.length > 0) {
    console.log('What cannot be true at once, in minor units');
    console.table(apart);
  }
  return apart.length === 0;
}
