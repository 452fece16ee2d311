import { pointer, type Finding } from '../../model/finding.ts';
import type { Job } from '../../model/job.ts';
import { metres } from '../../units/length.ts';
import type { AskedRequirement } from '../asked/requirements.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

/** What is bought in several continuous lengths, as none that is sold is long enough. */
export function severalLengths(
  job: Job,
  problem: Problem,
  plan: Plan,
  sourced: readonly AskedRequirement[],
): Finding[] {
  return problem.requirements.flatMap((requirement, index): Finding[] => {
    if (!requirement.several) return [];
    const bought = requirement.choices.flatMap((at) => {
      const choice = problem.choices[at];
      const mm = choice?.form === 'metre' ? (plan.units[at] ?? 0) * eachFor(choice, index) : 0;
      return choice && mm > 0 ? [{ offer: choice.offer, mm }] : [];
    });
    if (bought.length < 2) return [];
    return [
      {
        code: 'several-continuous-lengths',
        severity: 'note',
        at: pointer(['offers', job.offers.findIndex(({ code }) => code === bought[0]?.offer)]),
        where: sourced[index]?.rolledUp.label ?? requirement.id,
        found: `no offer has ${metres(requirement.need)} in one length; bought in ${bought.length}: ${bought.map(({ offer, mm }) => `${metres(mm)} of offer ${offer}`).join(', ')}`,
        todo: 'The cutting plan shows which pieces are cut from which length. If the supplier now has one length that is long enough, update the stock of its offer.',
      },
    ];
  });
}
