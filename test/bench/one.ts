import { Job } from '../../worker/engine/model/job.ts';
import { highs } from '../../worker/engine/solver/highs.ts';
import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { solveProblem } from '../../worker/engine/sourcing/solve/solve.ts';
import { exactToSolver } from '../../worker/engine/units/money.ts';
import { direct, problemOf } from './direct.ts';
import { holdingsOf } from './holdings.ts';
import { benchJob, isFamily, isVariant, type Instance } from './instances.ts';
import { knowledgeOver } from './known.ts';
import { peakRssMb } from './memory.ts';
import type { DirectRow, EngineRow } from './row.ts';
import { stopwatch } from './stopwatch.ts';
import { untilSeconds } from './untilSeconds.ts';

// Solves one instance in a process of its own, and prints one line of JSON: an EngineRow or a DirectRow.
// node --import tsx test/bench/one.ts family variant seed engine|direct seconds

/** An instance as the problem that is solved. */
interface Read {
  problem: Problem;
  readSeconds: number;
}

async function engineRow(
  instance: Instance,
  { problem, readSeconds }: Read,
  limitSeconds: number,
): Promise<EngineRow> {
  const taken = stopwatch();
  const known = knowledgeOver(() => taken().cpuSeconds);
  const control = untilSeconds(limitSeconds);
  const { cost, bound, proven } = await solveProblem(problem, control, { onProgress: known.heard });
  const took = taken();
  const [best, least] = [exactToSolver(cost, problem.scale), exactToSolver(bound, problem.scale)];
  return {
    by: 'engine',
    ...instance,
    ...took,
    limitSeconds,
    holdings: holdingsOf(problem),
    readSeconds,
    proven,
    costMinor: best,
    cost: `${cost}`,
    bound: `${bound}`,
    ...known.ended({ best, bound: least, seconds: took.cpuSeconds }),
    peakRssMb: peakRssMb(),
  };
}

async function directRow(instance: Instance, { problem }: Read, limitSeconds: number): Promise<DirectRow> {
  const { cost, proven, cpuSeconds, wallSeconds } = await direct(problem, limitSeconds);
  return {
    by: 'direct',
    ...instance,
    ...{ cpuSeconds, wallSeconds, limitSeconds, proven },
    costMinor: cost === undefined ? null : exactToSolver(cost, problem.scale),
    cost: cost === undefined ? null : `${cost}`,
    peakRssMb: peakRssMb(),
  };
}

function read(instance: Instance): Read {
  const job = Job.parse(benchJob(instance));
  const taken = stopwatch();
  const problem = problemOf(job);
  return { problem, readSeconds: taken().cpuSeconds };
}

const [family = '', variant = '', seedText, by, secondsText] = process.argv.slice(2);
const [seed, seconds] = [Number(seedText), Number(secondsText)];
if (
  !isFamily(family) ||
  !isVariant(variant) ||
  (by !== 'engine' && by !== 'direct') ||
  !Number.isInteger(seed) ||
  !(seconds > 0)
)
  throw new Error('say which: family variant seed engine|direct seconds');
const instance: Instance = { family, variant, seed };
const problem = read(instance);
// A worker has the solver at hand: loading it is no part of an answer.
await highs();
const row = await (by === 'engine' ? engineRow : directRow)(instance, problem, seconds);
process.stdout.write(`${JSON.stringify(row)}\n`);
