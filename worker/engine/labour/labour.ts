import { marketOf } from '../job/market.ts';
import { askedLooms, type AskedLoom } from '../loom/asked.ts';
import { coveringsOf } from '../loom/coverings/layers.ts';
import { branchesOf } from '../loom/graph/branches.ts';
import { wireFiguresOf } from '../loom/wires/wireFigures.ts';
import type { LoomLabour } from '../model/buildOrBuy.ts';
import type { Job } from '../model/job.ts';
import type { Part } from '../model/part.ts';
import type { Coverings } from '../loom/coverings/layers.ts';
import { countLoom } from './countLoom.ts';
import { minutesIfBought, rowsOf, sumOfMinutes } from './minutes.ts';

/** The labour of each of these looms, as if it were built: operations counted from the loom, with the minutes of its settings. */
function labourOf(
  looms: readonly AskedLoom[],
  parts: ReadonlyMap<string, Part>,
  coverings: Coverings,
): LoomLabour[] {
  return looms.map((asked): LoomLabour => {
    const { loom, quantity, settings } = asked;
    const operations = rowsOf(countLoom(asked, parts, coverings.of(loom.code)), quantity, settings);
    return {
      loom: loom.code,
      quantity,
      minutes: sumOfMinutes(operations),
      minutesIfBought: minutesIfBought(operations),
      operations,
    };
  });
}

/** The labour of all looms of a normalised job's request. */
export function labourOfJob(job: Job): LoomLabour[] {
  const looms = askedLooms(job);
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const branches = branchesOf(looms, parts, wireFiguresOf(job.parts));
  return labourOf(looms, parts, coveringsOf(looms, branches, parts, marketOf(job).has));
}
