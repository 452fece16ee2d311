import { addTo } from '../../model/group.ts';
import type { Relaxation } from './dual.ts';
import type { Node } from './node.ts';
import { withMore, type Part } from './planStore.ts';
import { partialSteps } from './steps.ts';

const NOISE = 1e-9;

/**
 * Adds to a node the cheapest plans of three sellers and more, where these are cheaper at its prices than any that it has;
 * true where there were any. Without any the last look’s bound is one on all plans whatever.
 */
export function addLongerPlans(relaxation: Relaxation, node: Node): boolean {
  const { network, look, store } = relaxation;
  const found = new Map<number, number[]>();
  network.blocks.forEach((block, index) => {
    if (block.single) return;
    const parts = longest(relaxation, index, look.price[index]! - NOISE, node.must);
    if (parts) addTo(found, index, store.add(parts));
  });
  if (found.size === 0) return false;
  node.alive = withMore(node.alive, found);
  return true;
}

interface State {
  gives: number;
  cost: number;
  parts: number;
  before: State | undefined;
  link: number;
  step: number;
}

/** The cheapest plan of a block of at least three sellers, if it costs less than the limit. */
function longest(relaxation: Relaxation, block: number, limit: number, must: Uint8Array): Part[] | undefined {
  const { network } = relaxation;
  const { need } = network.blocks[block]!;
  const { offered: useful, dearness } = partialSteps(relaxation, block, limit);
  // No three sellers are cheaper than the cheapest piece is for all.
  if (useful.length < 3 || dearness * need >= limit) return undefined;
  const empty: State = { gives: 0, cost: 0, parts: 0, before: undefined, link: -1, step: -1 };
  let states: State[] = [empty];
  let best: State | undefined;
  for (const link of network.linksOfBlock[block]!) {
    if (must[link] === 0) continue;
    const steps = useful.find((offered) => offered.link === link)?.steps ?? [];
    states = states.flatMap((before) =>
      steps.map(({ gives, cost, step }) => ({
        gives: before.gives + gives,
        cost: before.cost + cost,
        parts: Math.min(3, before.parts + 1),
        before,
        link,
        step,
      })),
    );
  }
  for (const state of states)
    if (state.gives >= need && state.parts >= 3 && state.cost < (best?.cost ?? limit)) best = state;
  const rest = (gives: number) => dearness * (need - gives);
  for (const { link, steps } of useful) {
    if (must[link] !== 0) continue;
    const next = [...states];
    for (const state of states)
      for (const { gives, cost, step } of steps) {
        const sum = state.cost + cost;
        const given = state.gives + gives;
        const parts = Math.min(3, state.parts + 1);
        if (given >= need) {
          if (parts >= 3 && sum < (best?.cost ?? limit))
            best = { gives: given, cost: sum, parts, before: state, link, step };
        } else if (sum + rest(given) < (best?.cost ?? limit))
          next.push({ gives: given, cost: sum, parts, before: state, link, step });
      }
    states = undominated(next);
  }
  if (!best) return undefined;
  const plan: Part[] = [];
  for (let state: State | undefined = best; state && state.link >= 0; state = state.before)
    plan.push([state.link, state.step]);
  return plan.reverse();
}

/** Of states of as many parts, those that give more than any that costs no more. */
function undominated(states: State[]): State[] {
  states.sort((a, b) => a.cost - b.cost || b.gives - a.gives);
  const most = [-1, -1, -1, -1];
  return states.filter(({ gives, parts }) => {
    // One of more parts stands for one of fewer too: whatever makes this three makes that three.
    for (let more = parts; more <= 3; more++) if (most[more]! >= gives) return false;
    most[parts] = gives;
    return true;
  });
}
