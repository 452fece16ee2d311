import { availableParallelism } from 'node:os';
import { table } from 'table';
import type { Constant } from './moved/constant.ts';
import { faultsOf, type Noticed } from './moved/judge.ts';
import { OTHER_CONSTANTS } from './moved/otherConstants.ts';
import { scratchCopy, type Scratch } from './moved/scratch.ts';
import { TRADE_CONSTANTS } from './moved/tradeConstants.ts';
import { UNMOVED } from './moved/unmoved.ts';

// Moves each constant of the trade by two percent, up and down, and shows that a check of test/trade fails.

const SHARE = 0.02;
const constants = [...TRADE_CONSTANTS, ...OTHER_CONSTANTS];

async function noticedIn(scratch: Scratch, constant: Constant): Promise<Noticed> {
  const { failing: up } = await scratch.moved(constant, 1 + SHARE);
  const down = constant.instead ? undefined : (await scratch.moved(constant, 1 - SHARE)).failing;
  return { constant, up, down };
}

/** A copy for each core, and the constants dealt to whichever is free. */
async function moveAll(): Promise<{ names: string[]; noticed: Noticed[] }> {
  const scratches: Scratch[] = [];
  try {
    while (scratches.length < availableParallelism()) scratches.push(scratchCopy());
    const [first] = scratches;
    if (!first) throw new Error('no scratch copy');
    const { all, failing } = await first.asItIs();
    if (failing.length > 0) throw new Error(`checks fail before anything is moved: ${failing.join('; ')}`);
    const noticed = new Map<Constant, Noticed>();
    const queue = [...constants];
    const work = async (scratch: Scratch) => {
      for (let next = queue.shift(); next; next = queue.shift())
        noticed.set(next, await noticedIn(scratch, next));
    };
    await Promise.all(scratches.map(work));
    return { names: all, noticed: constants.flatMap((constant) => noticed.get(constant) ?? []) };
  } finally {
    for (const scratch of scratches) scratch.remove();
  }
}

const { names, noticed } = await moveAll();
const rows = noticed.map(({ constant: { file, text }, up, down }) => [
  file,
  text,
  up.length,
  down?.length ?? '–',
  up[0] ?? down?.[0] ?? 'none',
]);
const columns = { 1: { width: 44, wrapWord: true }, 4: { width: 80, truncate: 80 } };
console.log(
  table([['file', 'constant', '+2 %', '−2 %', 'the first check that fails'], ...rows], { columns }),
);
for (const { constant } of noticed)
  if (constant.oneWay && !constant.instead)
    console.log(`One way only: ${constant.file}: ${constant.text}: ${constant.oneWay}.`);
for (const { naming, why } of UNMOVED) console.log(`Without a constant: ${naming}: ${why}.`);
const faults = faultsOf(noticed, names, UNMOVED);
console.log(
  [`${constants.length} constants, ${names.length} values, ${faults.length} faults`, ...faults].join('\n'),
);
process.exitCode = faults.length > 0 ? 1 : 0;
