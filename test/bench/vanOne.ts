import { readFileSync } from 'node:fs';
import { highs } from '../../worker/engine/solver/highs.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { engine } from './direct.ts';
import { peakRssMb } from './memory.ts';
import { vanRow } from './vanRow.ts';

// Prices the van in a process of its own, and prints one line of JSON: a VanRow.
// node --import tsx test/bench/vanOne.ts besideSeconds seconds

const [besideText, secondsText] = process.argv.slice(2);
const [besideSeconds, seconds] = [Number(besideText), Number(secondsText)];
if (!(besideSeconds >= 0) || !(seconds > 0)) throw new Error('say how long: besideSeconds seconds');
const text = readFileSync(new URL('../../examples/van/job.json', import.meta.url), 'utf8');
const job = Job.parse(JSON.parse(text));
await highs();
const { result, ...taken } = await engine(
  { ...job, request: { ...job.request, settings: { ...job.request.settings, besideSeconds } } },
  seconds,
);
process.stdout.write(
  `${JSON.stringify(vanRow(result, { besideSeconds, ...taken, peakRssMb: peakRssMb() }))}\n`,
);
