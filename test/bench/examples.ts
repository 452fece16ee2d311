import { readFileSync } from 'node:fs';
import { Job } from '../../worker/engine/model/job.ts';
import { exactToAmount } from '../../worker/engine/units/money.ts';
import { direct, engine, problemOf } from './direct.ts';

/** Each example once, and as a club's order of forty. */
const EXAMPLES = [
  ['three-wires', 1],
  ['trailer', 1],
  ['van', 1],
  ['trailer', 40],
  ['van', 40],
] as const;
const SECONDS = 120;

/** The examples: the model given straight to the solver beside a whole quote of the engine. */
export async function benchExamples(): Promise<void> {
  const rows: Record<string, string | number>[] = [];
  for (const [name, times] of EXAMPLES) {
    const text = readFileSync(new URL(`../../examples/${name}/job.json`, import.meta.url), 'utf8');
    const job = ofSoMany(Job.parse(JSON.parse(text)), times);
    const problem = problemOf(job);
    const straight = await direct(problem, SECONDS);
    const quote = await engine(job, SECONDS);
    const { proof } = quote.result;
    const cost =
      straight.cost === undefined ? '' : exactToAmount(straight.cost, job.club.currency, problem.scale);
    rows.push({
      example: name,
      times,
      needs: problem.requirements.length,
      offers: problem.choices.length,
      suppliers: problem.suppliers.length,
      'direct, CPU s': straight.cpuSeconds.toFixed(2),
      'direct, cost': cost,
      'quote, CPU s': quote.cpuSeconds.toFixed(2),
      'quote, wall s': quote.wallSeconds.toFixed(2),
      'quote, cost': proof.cost.amount,
      'quote proven': proof.status === 'proven' ? 'yes' : 'no',
      agree: !straight.proven ? '' : cost === proof.cost.amount ? 'yes' : 'no',
    });
  }
  console.log('The model given straight to the solver, beside a whole quote with ties and comparisons');
  console.table(rows);
}

/** The same, each loom that it asks for so many times. */
function ofSoMany(job: Job, times: number): Job {
  const looms = job.request.looms.map((asked) => ({ ...asked, quantity: asked.quantity * times }));
  return { ...job, request: { ...job.request, looms } };
}
