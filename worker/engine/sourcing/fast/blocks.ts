import { exactToSolver } from '../../units/money.ts';
import type { Choice, Problem } from '../problem/problem.ts';
import { rising } from './rising.ts';
import { eachFor, lineCost, unitsAtLeast } from '../problem/units.ts';

/** So many units of some choices of one seller. */
export type Lines = readonly { choice: number; units: number }[];

/** What a need can be given by one seller: so much of it, capped at the need, for so much in the seller's minor units. */
export interface Step {
  gives: number;
  value: number;
  micrograms: number;
  lines: Lines;
}

/** A seller of a need: its steps, rising in both what they give and what they cost. The last gives most. */
export interface Stair {
  seller: number;
  steps: readonly Step[];
}

/** A need that shares nothing with another: what is bought for it serves nothing else. */
export interface Block {
  demand: number;
  need: number;
  /** Whether it all comes from one seller and one offer. */
  single: boolean;
  stairs: readonly Stair[];
}

/** More ways than these to take one offer are not written out. */
const MOST_STEPS = 160;

/**
 * The problem's needs one by one, where each stands by itself: sums and continuous lengths of one order that share no
 * offer, no stock and no family. Undefined where some do; such a problem is for the solver's own model.
 */
export function blocksOf(problem: Problem): Block[] | undefined {
  const { demands, covers, choices, groups, sharedStock, insistOn } = problem;
  if (groups.length > 0 || sharedStock.length > 0) return undefined;
  if (problem.suppliers.some(({ wave }) => wave > 1) || insistOn.length > 1) return undefined;
  if (choices.some(({ serves }) => serves.length > 1)) return undefined;
  const asked = new Map<number, { need: number; gives: ReadonlyMap<number, number> }>();
  for (const { members, gives } of covers) {
    const [member] = members;
    if (!member || members.length > 1 || asked.has(member.demand)) return undefined;
    asked.set(member.demand, {
      need: member.need,
      gives: new Map(gives.map(({ choice, each }) => [choice, each])),
    });
  }
  const blocks: Block[] = [];
  for (const [index, demand] of demands.entries()) {
    if (demand.how === 'cut' || demand.when !== undefined) return undefined;
    const cover = asked.get(index);
    if (demand.how === 'sum' && !cover) return undefined;
    const single = demand.how === 'single';
    const need = cover?.need ?? demand.need;
    const bySeller = new Map<number, Step[]>();
    for (const at of demand.choices) {
      const choice = choices[at];
      if (!choice || choice.tiers.length === 0) continue;
      const each = cover ? (cover.gives.get(at) ?? 0) : eachFor(choice, index);
      if (each <= 0) continue;
      const steps = stepsOf(choice, at, each, need, single);
      if (!steps) return undefined;
      if (steps.length === 0) continue;
      const before = bySeller.get(choice.supplier);
      const together = before ? (single ? [...before, ...steps] : sums(before, steps, need)) : steps;
      bySeller.set(choice.supplier, rising(together, valueOf));
      if ((bySeller.get(choice.supplier)?.length ?? 0) > MOST_STEPS) return undefined;
    }
    const stairs = [...bySeller].map(([seller, steps]) => ({ seller, steps }));
    if (stairs.length === 0) return undefined;
    blocks.push({ demand: index, need, single, stairs });
  }
  return blocks;
}

/** Each amount of one choice that may be worth buying by itself: up to the fewest that meet the need. */
function stepsOf(
  choice: Choice,
  at: number,
  each: number,
  need: number,
  single: boolean,
): Step[] | undefined {
  const enough = unitsAtLeast(choice, Math.ceil(need / each)) ?? choice.mostUnits ?? 0;
  const first = choice.tiers[0]?.fromUnits ?? 1;
  const wanted: number[] = [];
  if (single) {
    if (enough * each < need) return [];
    wanted.push(enough);
  } else {
    if ((enough - first) / choice.step > MOST_STEPS) return undefined;
    for (let units = first; units <= enough; units += choice.step) wanted.push(units);
  }
  // A break beyond what is needed may make it cheaper.
  for (const { fromUnits } of choice.tiers) if (fromUnits > enough) wanted.push(fromUnits);
  const steps = wanted.map((units) => ({
    gives: Math.min(need, units * each),
    value: exactToSolver(lineCost(choice, units)),
    micrograms: choice.microgramsPerUnit * units,
    lines: [{ choice: at, units }],
  }));
  return rising(steps, valueOf);
}

const valueOf = ({ value }: Step) => value;

/** Either, or both together. */
function sums(one: readonly Step[], other: readonly Step[], need: number): Step[] {
  const both = one.flatMap((a) =>
    a.gives >= need
      ? []
      : other.flatMap((b) =>
          b.gives >= need
            ? []
            : [
                {
                  gives: Math.min(need, a.gives + b.gives),
                  value: a.value + b.value,
                  micrograms: a.micrograms + b.micrograms,
                  lines: [...a.lines, ...b.lines],
                },
              ],
        ),
  );
  return [...one, ...other, ...both];
}
