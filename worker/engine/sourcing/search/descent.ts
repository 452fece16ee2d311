import { Assignment, type Parts } from './assignment.ts';
import type { Network } from './network.ts';
import { DESCENT_GAIN } from '../../solver/tolerances.ts';

const MOST_ROUNDS = 20;

/** Where a descent may go: plans to choose from, by requirement; none for one that is not asked for. */
export interface Choices {
  network: Network;
  plans: readonly (readonly Parts[])[];
}

/**
 * Goes down from an assignment to one that no single change betters: another plan for one requirement, or a supplier done
 * without, as long as that gains: cost_now − cost_next > `DESCENT_GAIN`. Undefined where no more suppliers than are allowed cannot serve all.
 */
export function descend(choices: Choices, from: readonly (Parts | undefined)[]): Assignment | undefined {
  let now = new Assignment(choices.network, from);
  let shut: ReadonlySet<string> = new Set();
  while (codesIn(now).size > choices.network.atMostSuppliers) {
    const fewer = without(choices, now, shut, Infinity);
    if (!fewer) return undefined;
    now = fewer.assignment;
    shut = fewer.shut;
  }
  for (;;) {
    oneByOne(choices, now, shut);
    const fewer = without(choices, now, shut, now.cost - DESCENT_GAIN);
    if (!fewer) break;
    now = fewer.assignment;
    shut = fewer.shut;
  }
  return codesIn(now).size > choices.network.atMostSuppliers ? undefined : now;
}

/** The suppliers from whom an assignment buys, by code; the own shelf is none. */
function codesIn(assignment: Assignment): Set<string> {
  const { codes, parcels } = assignment.network;
  return new Set(codes.filter((_, s) => parcels.of[s]!.length > 0 && assignment.uses(s)));
}

/** Changes one requirement after another until none gains. */
function oneByOne({ network, plans }: Choices, now: Assignment, shut: ReadonlySet<string>): void {
  let moved = true;
  for (let round = 0; moved && round < MOST_ROUNDS; round++) {
    moved = false;
    plans.forEach((list, requirement) => {
      if (!now.plans[requirement]) return;
      let best = -DESCENT_GAIN;
      let chosen: Parts | undefined;
      for (const plan of list) {
        if (plan === now.plans[requirement] || !isOpen(network, plan, shut)) continue;
        const delta = now.change(requirement, plan);
        if (delta < best) {
          best = delta;
          chosen = plan;
        }
      }
      if (!chosen) return;
      now.take(requirement, chosen);
      moved = true;
    });
  }
}

function isOpen({ links, codes }: Network, plan: Parts, shut: ReadonlySet<string>): boolean {
  return plan.every(({ link }) => !shut.has(codes[links[link]!.supplier]!));
}

/** The best way to do without one of the suppliers, if it costs less than the limit. */
function without(
  choices: Choices,
  now: Assignment,
  shut: ReadonlySet<string>,
  limit: number,
): { assignment: Assignment; shut: ReadonlySet<string> } | undefined {
  let best: { assignment: Assignment; shut: ReadonlySet<string> } | undefined;
  for (const code of codesIn(now)) {
    if (choices.network.insistOn.includes(code)) continue;
    const closed = new Set([...shut, code]);
    const next = movedAway(choices, now, closed, best?.assignment.cost ?? limit);
    if (next) best = { assignment: next, shut: closed };
  }
  return best;
}

function movedAway(
  { network, plans }: Choices,
  now: Assignment,
  shut: ReadonlySet<string>,
  limit: number,
): Assignment | undefined {
  const next = new Assignment(network, now.plans);
  for (const [requirement, plan] of now.plans.entries()) {
    if (!plan || isOpen(network, plan, shut)) continue;
    let least = Infinity;
    let chosen: Parts | undefined;
    for (const other of plans[requirement]!) {
      if (!isOpen(network, other, shut)) continue;
      const delta = next.change(requirement, other);
      if (delta < least) {
        least = delta;
        chosen = other;
      }
    }
    if (!chosen) return undefined;
    next.take(requirement, chosen);
  }
  return next.cost < limit ? next : undefined;
}
