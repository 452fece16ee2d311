import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { branchedJob } from '../support/branchedLoom.ts';

const unhurried = { remainingMs: () => Infinity, cancelled: () => false, report: () => undefined };

/** Wires in all, as so many looms of so many wires on so many branches. */
const SHAPES = [
  { wires: 1_000, branches: 40, looms: 1 },
  { wires: 10_000, branches: 400, looms: 1 },
  { wires: 10_000, branches: 400, looms: 10 },
] as const;
const RUNS = 3;

/** The roll-up with all checks: seconds for 1,000, 10,000 and 100,000 wires, and each size’s share a wire. */
export function benchRollUp(): void {
  const rows = SHAPES.map((shape) => {
    const job = Job.parse(branchedJob({ ...shape, seed: 1 }));
    const seconds = Array.from({ length: RUNS }, () => {
      const start = performance.now();
      const { findings } = rollUp(normaliseJob(job), unhurried);
      const took = (performance.now() - start) / 1000;
      if (findings.some(({ severity }) => severity === 'stop')) throw new Error('a loom in order has a stop');
      return took;
    }).sort((a, b) => a - b);
    const wires = shape.wires * shape.looms;
    const best = seconds[0] ?? 0;
    return { wires, best, median: seconds[Math.floor(RUNS / 2)] ?? 0, perWire: (best / wires) * 1e6 };
  });
  console.log('Roll-up with all checks, normalising within; best and median of 3 runs');
  console.table(
    rows.map(({ wires, best, median, perWire }) => ({
      wires,
      'best, s': best.toFixed(3),
      'median, s': median.toFixed(3),
      'µs a wire': perWire.toFixed(1),
    })),
  );
}
