import { readFileSync } from 'node:fs';
import { Job } from '../../worker/engine/model/job.ts';
import { exactToAmount } from '../../worker/engine/units/money.ts';
import { direct, engine, problemOf } from './direct.ts';

const EXAMPLES = ['three-wires', 'trailer', 'van'] as const;
const SECONDS = 120;

/** The examples: the model given straight to the solver beside a whole quote of the engine. */
export async function benchExamples(): Promise<void> {
  const rows: Record<string, string | number>[] = [];
  for (const name of EXAMPLES) {
    const text = readFileSync(new URL(`../../examples/${name}/job.json`, import.meta.url), 'utf8');
    const job = Job.parse(JSON.parse(text));
    const problem = problemOf(job);
    const straight = await direct(problem, SECONDS);
    const quote = await engine(job, SECONDS);
    const cost =
      straight.cost === undefined ? '' : exactToAmount(straight.cost, job.club.currency, problem.scale);
    rows.push({
      example: name,
      needs: problem.demands.length,
      offers: problem.choices.length,
      suppliers: problem.suppliers.length,
      'direct, s': straight.seconds.toFixed(2),
      'direct, cost': cost,
      'quote, s': quote.seconds.toFixed(2),
      'quote, cost': quote.proof.cost.amount,
      agree: cost === quote.proof.cost.amount ? 'yes' : 'no',
    });
  }
  console.log('The model given straight to the solver, beside a whole quote with ties and comparisons');
  console.table(rows);
}
