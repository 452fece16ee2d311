import TinyQueue from 'tinyqueue';
import { Cancelled, type Control } from '../../model/control.ts';
import type { Problem } from '../problem/problem.ts';
import { isSettled } from './allowed.ts';
import { blocksOf } from './blocks.ts';
import { choicesAt } from './choicesAt.ts';
import { Relaxation } from './dual.ts';
import { networkOf } from './network.ts';
import { bandPlaces, childOf, Climber, rootNode, type Node } from './node.ts';
import { PlanStore, plansOfTwo } from './planStore.ts';
import { sellersOf } from './sellers.ts';
import { certify } from './settle.ts';
import { splitsOf } from './splits.ts';

const ROOT_LOOKS = 200;
const NODE_LOOKS = 30;
const SHARE = 0.3;
/** So many nodes are parted, the lowest first, or until all lie so far above the cost. */
const MOST_NODES = 150;
const HIGH_ENOUGH = 1.03;

/**
 * For each choice what no mix that buys any of it goes below, minor units: the problem is parted by what suppliers' parcels
 * may be, and each part says at its prices what the choice adds. `cost`: the least cost, to climb towards. Undefined where
 * needs do not stand by themselves, or time is short. Throws Cancelled.
 */
export function forcedCosts(problem: Problem, cost: number, control: Control): Float64Array | undefined {
  const sellers = sellersOf(problem);
  const blocks = sellers && blocksOf(problem);
  if (!blocks) return undefined;
  const network = networkOf(blocks, sellers);
  const store = new PlanStore(network);
  const relaxation = new Relaxation(store, problem.atMostSuppliers ?? Infinity);
  const climber = new Climber(relaxation);
  const places = bandPlaces(network);
  const parts: Node[] = [];
  const queue = new TinyQueue<Node>([], (a, b) => a.bound - b.bound);
  const add = (node: Node, looks: number, share: number) => {
    const goal = cost * HIGH_ENOUGH;
    climber.climb(node, { looks, share, goal, target: Math.max(cost, goal) });
    if (node.allowed.every(isSettled)) climber.polish(node);
    certify(relaxation, node);
    if (node.bound === Infinity) return;
    if (node.allowed.every(isSettled)) parts.push(node);
    else queue.push(node);
  };
  add(rootNode(network, plansOfTwo(store), new Set(problem.insistOn)), ROOT_LOOKS, 1);
  for (let nodes = 0; nodes < MOST_NODES; nodes++) {
    if (control.cancelled()) throw new Cancelled();
    if (control.remainingMs() <= 0) return undefined;
    const node = queue.pop();
    if (!node) break;
    const [split] = node.bound < cost * HIGH_ENOUGH ? splitsOf(network, node, places) : [];
    if (!split) {
      parts.push(node);
      if (node.bound >= cost * HIGH_ENOUGH) break;
      continue;
    }
    for (const state of split.parts) add(childOf(network, node, split.seller, state), NODE_LOOKS, SHARE);
  }
  return leastOf(problem, relaxation, [...parts, ...queue.data], control);
}

function leastOf(
  problem: Problem,
  relaxation: Relaxation,
  parts: readonly Node[],
  control: Control,
): Float64Array | undefined {
  const least = new Float64Array(problem.choices.length).fill(Infinity);
  for (const node of parts) {
    if (control.cancelled()) throw new Cancelled();
    if (control.remainingMs() <= 0) return undefined;
    // Without one that holds for all plans, what the part itself does not go below is all that is known.
    const bound = certify(relaxation, node) ?? -Infinity;
    relaxation.network.blocks.forEach((_, index) => {
      for (const { choice, more } of choicesAt(problem, relaxation, index)) {
        const cost = Math.max(node.bound, bound + Math.max(0, more));
        if (cost < least[choice]!) least[choice] = cost;
      }
    });
  }
  return least;
}
