import { exactToSolver } from '../../units/money.ts';
import type { Choice } from '../problem/problem.ts';
import { eachFor, lineCost, unitsAtLeast } from '../problem/units.ts';
import type { Step } from './network.ts';
import { MICROGRAMS } from './parcels.ts';

/** More ways than these to be served by one supplier are not written out. */
export const MOST_STEPS = 1_000;

/** What a choice gives, in the requirement's own measure. */
export interface Offered {
  at: number;
  choice: Choice;
  each: number;
}

/**
 * All amounts of one supplier's choices that can be worth buying for a sum, what goes beyond the need left out but for
 * breaks that make more cost less: rising in what they give. Undefined where there are too many.
 */
export function stairOf(
  offered: readonly Offered[],
  need: number,
  byWeight: boolean,
  amounts = amountsOf,
): Step[] | undefined {
  let stair: Step[] = [];
  for (const one of offered) {
    const steps = amounts(one, need);
    if (!steps || steps.length * (stair.length + 1) > MOST_STEPS * 50) return undefined;
    stair = undominated([...stair, ...steps, ...sums(stair, steps, need)], byWeight);
    if (stair.length > MOST_STEPS) return undefined;
  }
  return stair;
}

/** Each choice that meets a requirement alone, in one continuous length. */
export function alternatives(
  offered: readonly Offered[],
  need: number,
  byWeight: boolean,
  pieces: NonNullable<Step['cuts']>[number]['pieces'],
): Step[] {
  const steps = offered.flatMap(({ at, choice, each }) => {
    const alone = unitsAtLeast(choice, Math.ceil(need / each));
    if (alone === undefined) return [];
    return [alone, ...laterTiers(choice, alone)].map((units) => ({
      ...stepOf(at, choice, units, 1),
      cuts: [{ choice: at, lengths: 1, pieces }],
    }));
  });
  return undominated(steps, byWeight);
}

/** Each amount of one choice up to what meets a requirement, and breaks beyond that. */
export function amountsOf({ at, choice, each }: Offered, need: number): Step[] | undefined {
  const enough = unitsAtLeast(choice, Math.ceil(need / each)) ?? choice.mostUnits ?? 0;
  const first = choice.tiers[0]?.fromUnits ?? 1;
  if ((enough - first) / choice.step > MOST_STEPS) return undefined;
  const wanted: number[] = [];
  for (let units = first; units <= enough; units += choice.step) wanted.push(units);
  return [...wanted, ...laterTiers(choice, enough)].map((units) =>
    stepOf(at, choice, units, Math.min(need, units * each)),
  );
}

/** A break beyond what is needed may make it cheaper. */
function laterTiers({ tiers }: Choice, enough: number): number[] {
  return tiers.flatMap(({ fromUnits }) => (fromUnits > enough ? [fromUnits] : []));
}

function stepOf(at: number, choice: Choice, units: number, gives: number): Step {
  return {
    gives,
    value: exactToSolver(lineCost(choice, units)),
    grams: (choice.microgramsPerUnit * units) / MICROGRAMS,
    lines: [{ choice: at, units }],
  };
}

/** Both together. */
function sums(one: readonly Step[], other: readonly Step[], need: number): Step[] {
  return one.flatMap((a) =>
    a.gives >= need
      ? []
      : other.flatMap((b) =>
          b.gives >= need
            ? []
            : [
                {
                  gives: Math.min(need, a.gives + b.gives),
                  value: a.value + b.value,
                  grams: a.grams + b.grams,
                  lines: [...a.lines, ...b.lines],
                },
              ],
        ),
  );
}

/** Those that give more than any that costs no more; where weight counts, that costs no more and weighs no more. */
function undominated(steps: readonly Step[], byWeight: boolean): Step[] {
  const sorted = [...steps].sort((a, b) => a.value - b.value || b.gives - a.gives || a.grams - b.grams);
  if (!byWeight) {
    let most = -1;
    return sorted.filter(({ gives }) => {
      if (gives <= most) return false;
      most = gives;
      return true;
    });
  }
  const kept: Step[] = [];
  for (const step of sorted)
    if (!kept.some((other) => other.gives >= step.gives && other.grams <= step.grams)) kept.push(step);
  return kept;
}

export function offeredOf(choices: readonly Choice[], at: number, requirement: number): Offered[] {
  const choice = choices[at];
  if (!choice || choice.tiers.length === 0) return [];
  const each = eachFor(choice, requirement);
  return each > 0 ? [{ at, choice, each }] : [];
}

/** Of amounts that are too many so many are kept. */
const MOST_LOOSE = 100;

/** The same for a bound: where amounts are many, one stands for those up to the next, gives what the last of them gives and costs what the cheapest does. */
export function looseAmountsOf(one: Offered, need: number): Step[] {
  const { at, choice, each } = one;
  const enough = unitsAtLeast(choice, Math.ceil(need / each)) ?? choice.mostUnits ?? 0;
  const first = choice.tiers[0]?.fromUnits ?? 1;
  const many = Math.floor((enough - first) / choice.step) + 1;
  if (many <= MOST_LOOSE) return amountsOf(one, need) ?? [];
  const stride = Math.ceil(many / MOST_LOOSE) * choice.step;
  const steps: Step[] = [];
  for (let units = first; units <= enough; units += stride) {
    const last = Math.min(enough, units + stride - choice.step);
    const inside = choice.tiers.flatMap(({ fromUnits }) =>
      fromUnits > units && fromUnits <= last ? [fromUnits] : [],
    );
    const cheapest = [units, ...inside].reduce((best, other) =>
      lineCost(choice, other) < lineCost(choice, best) ? other : best,
    );
    steps.push({
      ...stepOf(at, choice, cheapest, Math.min(need, last * each)),
      grams: (choice.microgramsPerUnit * units) / MICROGRAMS,
    });
  }
  return [...steps, ...laterTiers(choice, enough).map((units) => stepOf(at, choice, units, need))];
}
