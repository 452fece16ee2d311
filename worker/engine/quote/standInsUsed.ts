import { offerParts, type Offer } from '../model/offer.ts';
import { givenBy } from '../sourcing/offered/choices.ts';
import type { StandIn } from '../sourcing/asked/standIns.ts';
import type { Mix } from './purchases.ts';

/** A part of an offer that is bought in place of another. */
export interface StandInUsed {
  part: string;
  requirement: string;
  insteadOf: string;
  standIn: StandIn;
}

/**
 * The parts of a bought offer that serve one of these requirements in place of what it needs; not where enough of the needed
 * part itself is bought or on the shelf.
 */
export function standInsUsed(mix: Mix, offer: Offer, requirements: readonly number[]): StandInUsed[] {
  return requirements.flatMap((at) => {
    const requirement = mix.sourced[at];
    if (!requirement || (mix.problem.requirements[at]?.how === 'sum' && hasEnough(mix, at))) return [];
    const { rolledUp, parts } = requirement;
    const insteadOf = rolledUp.kind === 'wire' ? rolledUp.id : rolledUp.part;
    return offerParts(offer).flatMap(({ part }) => {
      const standIn = parts.get(part);
      return standIn ? [{ part, requirement: rolledUp.id, insteadOf, standIn }] : [];
    });
  });
}

/** Whether what is bought and on the shelf of the needed parts themselves is enough. */
function hasEnough({ job, problem, plan, sourced }: Mix, at: number): boolean {
  const requirement = problem.requirements[at];
  const own = sourced[at]?.parts;
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  const stock = new Map(job.stock.map((item) => [item.code, item.part]));
  const has = (requirement?.choices ?? []).reduce((sum, index) => {
    const choice = problem.choices[index];
    const units = plan.units[index] ?? 0;
    if (!choice || units === 0) return sum;
    const isItself = (part: string) => own?.has(part) === true && own.get(part) === undefined;
    if (problem.suppliers[choice.supplier]?.own === true) {
      const each = choice.serves.find((served) => served.requirement === at)?.each ?? 0;
      return isItself(stock.get(choice.offer) ?? '') ? sum + each * units : sum;
    }
    const offer = offers.get(choice.offer);
    const given = (offer ? offerParts(offer) : []).filter(({ part }) => isItself(part));
    return given.reduce((all, { part }) => all + (offer ? givenBy(offer, part) : 0) * units, sum);
  }, 0);
  return has >= (requirement?.need ?? 0);
}
