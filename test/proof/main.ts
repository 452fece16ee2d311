import { table } from 'table';
import { binPackingProof } from './binPacking.ts';
import { wholeProof } from '../sourcing/whole/proof.ts';

// The proof of the sourcing engine, whole: every random instance against trying everything, every published instance to its
// known optimum. CI runs a seeded tenth of both.

const DECISIVE = 40;

async function main(): Promise<boolean> {
  const start = performance.now();
  const { instances, equal, proven, decisive } = await wholeProof();
  const seconds = (performance.now() - start) / 1000;
  console.log(
    `Brute force: ${instances} instances, ${equal} equal in unmet needs and unrounded cost, ${proven} proven; ${seconds.toFixed(0)} s.`,
  );
  const rules = Object.entries(decisive).sort(([, a], [, b]) => a - b);
  console.log(table([['rule', 'decides'], ...rules.map(([rule, count]) => [rule, `${count}`])]));
  const sets = await binPackingProof();
  if (sets.length === 0) console.log('Published cutting instances: not at hand, skipped.');
  else
    console.log(
      table([
        ['published set', 'proven optimal', 'median, s', 'worst, s'],
        ...sets.map(({ set, instances: all, right, median, worst }) => [
          set,
          `${right} of ${all}`,
          median.toFixed(2),
          worst.toFixed(2),
        ]),
      ]),
    );
  return (
    equal === instances &&
    proven === instances &&
    rules.every(([, count]) => count >= DECISIVE) &&
    sets.every(({ instances: all, right }) => right === all)
  );
}

process.exitCode = (await main()) ? 0 : 1;
