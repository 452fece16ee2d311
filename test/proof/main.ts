import { table } from 'table';
import { understood } from '../support/understood.ts';
import { middlingJob } from '../sourcing/middling/instance.ts';
import { PLAIN_SHOPS, plainShopsJob } from '../sourcing/middling/plainShops.ts';
import { wholeProof } from '../sourcing/whole/proof.ts';
import { agreementProof, type AgreementProof } from './agreement.ts';
import { binPackingProof } from './binPacking.ts';
import { FAMILIES } from '../bench/shops.ts';
import { CLOSINGS, certificateProof } from './certificates/proof.ts';
import { flagsOf, type Flags } from './flags.ts';

// The proof of the sourcing engine, whole: every random instance against trying everything, every published instance to its
// known optimum, every middling one against the model given straight to the solver, every bound by which the search closes
// something in exact arithmetic. CI runs some of each.
// npm run proof -- [--brute] [--published] [--shops] [--middling [--from 1] [--to 200]] [--certificates] [--seconds 120]

const DECISIVE = 40;
const PUBLISHED_SECONDS = 120;

async function brute(): Promise<boolean> {
  const start = performance.now();
  const { instances, equal, proven, decisive } = await wholeProof();
  const seconds = (performance.now() - start) / 1000;
  console.log(
    `Brute force: ${instances} instances, ${equal} equal in unmet needs and unrounded cost, ${proven} proven; ${seconds.toFixed(0)} s.`,
  );
  const rules = Object.entries(decisive).sort(([, a], [, b]) => a - b);
  console.log(table([['rule', 'decides'], ...rules.map(([rule, count]) => [rule, `${count}`])]));
  return equal === instances && proven === instances && rules.every(([, count]) => count >= DECISIVE);
}

async function published(): Promise<boolean> {
  const sets = await binPackingProof(PUBLISHED_SECONDS);
  if (sets.length === 0) {
    console.log('Published cutting instances: not at hand, skipped.');
    return true;
  }
  for (const words of sets.flatMap(({ wrong }) => wrong)) console.log(words);
  console.log(
    table([
      ['published set', 'proven optimal', 'median, CPU s', 'worst, CPU s'],
      ...sets.map(({ set, instances, right, median, worst }) => [
        set,
        `${right} of ${instances}`,
        median.toFixed(2),
        worst.toFixed(2),
      ]),
    ]),
  );
  return sets.every(({ instances, right }) => right === instances);
}

async function agreement({ parts, from, to, seconds }: Flags): Promise<boolean> {
  const seeds = Array.from({ length: to - from + 1 }, (_, index) => from + index);
  const found: AgreementProof[] = [];
  if (parts.has('shops'))
    found.push(await agreementProof({ set: 'shops', seeds: PLAIN_SHOPS, make: plainShopsJob }, seconds));
  if (parts.has('middling'))
    found.push(await agreementProof({ set: 'middling', seeds, make: middlingJob }, seconds));
  if (found.length === 0) return true;
  const both = ([middle, last]: [number, number]) => `${middle.toFixed(2)}, ${last.toFixed(2)}`;
  console.log(
    table([
      [
        'beside the model straight',
        'same unrounded cost',
        'of these with something undone',
        `straight not at its end in ${seconds} s`,
        'apart',
        'engine: median, worst, s',
        'straight: median, worst, s',
      ],
      ...found.map(({ set, instances, same, open, undone, engineSeconds, straightSeconds }) => [
        set,
        `${same} of ${instances}`,
        undone,
        open,
        instances - same - open,
        both(engineSeconds),
        both(straightSeconds),
      ]),
    ]),
  );
  return found.every(({ instances, same, open }) => same + open === instances);
}

const CERTIFIED_SEEDS = 100;

async function certificates({ seconds }: Flags): Promise<boolean> {
  const seeds = Array.from({ length: CERTIFIED_SEEDS }, (_, index) => index + 1);
  const instances = [false, true].flatMap((correlated) =>
    seeds.map((seed) => ({ ...FAMILIES.loom, correlated, seed })),
  );
  const found = await certificateProof(instances, seconds);
  for (const words of found.wrong) console.log(words);
  for (const [words, many] of Object.entries(found.skipped)) console.log(`Not recomputed, ${words}: ${many}`);
  console.log(
    table([
      ['certificates that close', 'written', 'right'],
      ...CLOSINGS.map((what) => [what, found.written[what], found.right[what]]),
    ]),
  );
  const { solvingSeconds, checkingSeconds } = found;
  console.log(
    `${found.instances} instances, ${found.proven} proven, ${found.whole} closed all over; solving ${solvingSeconds.toFixed(0)} s, recomputing ${checkingSeconds.toFixed(0)} s of processor.`,
  );
  return found.wrong.length === 0 && [found.proven, found.whole].every((many) => many === found.instances);
}

async function main(flags: Flags): Promise<boolean> {
  const { parts } = flags;
  const right = [
    !parts.has('brute') || (await brute()),
    !parts.has('published') || (await published()),
    await agreement(flags),
    !parts.has('certificates') || (await certificates(flags)),
  ];
  return right.every((one) => one);
}

// 2: what was asked cannot be understood.
const asked = understood(() => flagsOf(process.argv.slice(2)));
if (typeof asked === 'string') {
  console.error(asked);
  process.exitCode = 2;
} else process.exitCode = (await main(asked)) ? 0 : 1;
