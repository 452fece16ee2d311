import { readFileSync } from 'node:fs';
import type { Control } from '../../worker/engine/model/control.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { highs } from '../../worker/engine/solver/highs.ts';
import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { solveProblem } from '../../worker/engine/sourcing/solve/solve.ts';
import { exactToSolver } from '../../worker/engine/units/money.ts';
import { direct, problemOf } from './direct.ts';
import { benchJob, isFamily, isVariant, type Instance } from './instances.ts';
import { knowledgeOver } from './known.ts';
import type { DirectRow, EngineRow } from './row.ts';

// Solves one instance in a process of its own, and prints one line of JSON: an EngineRow or a DirectRow.
// node --import tsx test/bench/one.ts family variant seed engine|direct seconds

async function engineRow(instance: Instance, problem: Problem, limitSeconds: number): Promise<EngineRow> {
  const now = clock();
  const known = knowledgeOver(now);
  const control: Control = {
    remainingMs: () => Math.max(0, (limitSeconds - now()) * 1000),
    cancelled: () => false,
    report: () => undefined,
  };
  const { cost, bound, proven } = await solveProblem(problem, control, { onProgress: known.heard });
  const seconds = now();
  const [best, least] = [exactToSolver(cost, problem.scale), exactToSolver(bound, problem.scale)];
  return {
    by: 'engine',
    ...instance,
    seconds,
    limitSeconds,
    proven,
    costMinor: best,
    cost: `${cost}`,
    bound: `${bound}`,
    ...known.ended({ best, bound: least, seconds }),
    peakRssMb: peakRssMb(),
  };
}

async function directRow(instance: Instance, problem: Problem, limitSeconds: number): Promise<DirectRow> {
  const { cost, proven, seconds } = await direct(problem, limitSeconds);
  return {
    by: 'direct',
    ...instance,
    seconds,
    limitSeconds,
    proven,
    costMinor: cost === undefined ? null : exactToSolver(cost, problem.scale),
    cost: cost === undefined ? null : `${cost}`,
    peakRssMb: peakRssMb(),
  };
}

/** Seconds since now. */
function clock(): () => number {
  const start = performance.now();
  return () => (performance.now() - start) / 1000;
}

/**
 * The most memory that this process has held. What Node tells would be that of the parent, where it held more when it
 * started this one: Linux keeps that figure over the start of a program, but not the one in /proc.
 */
function peakRssMb(): number {
  const kilobytes =
    process.platform === 'linux'
      ? Number(/VmHWM:\s*(\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1])
      : process.resourceUsage().maxRSS;
  return Math.round(kilobytes / 1024);
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
const problem = problemOf(Job.parse(benchJob(instance)));
// A worker has the solver at hand: loading it is no part of an answer.
await highs();
const row = await (by === 'engine' ? engineRow : directRow)(instance, problem, seconds);
process.stdout.write(`${JSON.stringify(row)}\n`);
