import { packInto } from '../../worker/engine/cutting/packInto.ts';
import { isAtHand, schwerin, t60, u250, type Instance } from '../cutting/binPacking.ts';

// Prints how long each instance of the published sets takes: one length fewer shown impossible, and the optimum packed.
// node --import tsx test/bench/binPacking.ts [set] [name]
const sets: Record<string, () => Instance[]> = { u250, schwerin, t60 };
const [, , only, name] = process.argv;

function control(seconds: number) {
  const until = performance.now() + seconds * 1000;
  return { remainingMs: () => until - performance.now(), cancelled: () => false, report: () => undefined };
}

if (!isAtHand) console.log('the instances are not at hand');
else
  for (const [set, read] of Object.entries(sets)) {
    if (only && only !== set) continue;
    const seconds: number[] = [];
    let right = 0;
    for (const instance of read()) {
      if (name && !instance.name.includes(name)) continue;
      const { stock, pieces, optimum } = instance;
      const times: number[] = [];
      const states: string[] = [];
      for (const count of [optimum - 1, optimum]) {
        const begun = performance.now();
        const { status } = await packInto([{ usableMm: stock, count }], pieces, control(60));
        times.push((performance.now() - begun) / 1000);
        states.push(status);
      }
      const [fewer = 0, enough = 0] = times;
      seconds.push(fewer + enough);
      if (states.join() === 'impossible,packed') right++;
      if (only || states.join() !== 'impossible,packed' || fewer + enough > 2)
        console.log(instance.name, optimum, states.join(), fewer.toFixed(2), enough.toFixed(2));
    }
    const sorted = seconds.toSorted((a, b) => a - b);
    const at = (share: number) => (sorted[Math.floor(share * (sorted.length - 1))] ?? 0).toFixed(2);
    console.log(`${set}: ${right} of ${seconds.length} right; median ${at(0.5)} s, worst ${at(1)} s`);
  }
