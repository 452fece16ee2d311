import { addTo } from '../../model/group.ts';
import { coversOf, type Giving, type SumNeed } from './covers.ts';
import { piecesDemand, sumDemand } from './demands.ts';
import { counted, piecePools } from './pools.ts';
import type { Draft } from '../offered/drafts.ts';
import { isSum, type Need } from '../asked/needs.ts';
import type { Choice, Demand, Problem } from '../problem/problem.ts';
import { amountOf, type ByWave } from '../asked/waves.ts';

interface Making {
  waves: number;
  oneColourOneSupplier: boolean;
  /** Told of each need that the choices cannot meet. */
  untold: (need: Need) => void;
}

type Made = Pick<Problem, 'demands' | 'covers' | 'pools' | 'choices'> & { sourced: Need[] };

/** What is asked for and can be met, as the problem states it; the drafts that serve some of it as choices. */
export function madeOf(
  asked: readonly Need[],
  drafts: readonly Draft[],
  wanted: ByWave,
  making: Making,
): Made {
  const all = drafts.map((draft) => choiceFor(draft, (at) => at));
  const servingOf = new Map<number, number[]>();
  all.forEach(({ serves }, at) => {
    for (const { demand } of serves) addTo(servingOf, demand, at);
  });
  const demandFor = (one: Need, index: number): Demand | undefined => {
    const serving = servingOf.get(index) ?? [];
    const { requirement, when } = one;
    if (serving.length === 0 && when === undefined) return undefined;
    const from = {
      id: requirement.id,
      when,
      waves: making.waves,
      oneSupplier: requirement.kind === 'wire' && making.oneColourOneSupplier,
    };
    const demand = isSum(requirement)
      ? sumDemand(from, amountOf(requirement), index, all, serving)
      : piecesDemand(from, wanted.pieces(requirement), index, all, serving);
    if (!demand) making.untold(one);
    return demand;
  };
  const demands = asked.map(demandFor);
  const place = new Map<number, number>();
  demands.forEach((demand, at) => demand && place.set(at, place.size));
  const kept = new Map<number, number>();
  const serving = new Set(demands.flatMap((demand) => demand?.choices ?? []));
  drafts.forEach((_, at) => serving.has(at) && kept.set(at, kept.size));
  const chosen = demands.map((demand) => new Set(demand?.choices));
  const choices = drafts.flatMap((draft, at) =>
    kept.has(at)
      ? [choiceFor(draft, (index) => (chosen[index]?.has(at) ? place.get(index) : undefined))]
      : [],
  );
  const placed = demands.flatMap((demand) => (demand ? [renumbered(demand, kept)] : []));
  const sourced = asked.filter((_, index) => place.has(index));
  const sums = sourced.flatMap((one, demand): SumNeed[] =>
    isSum(one.requirement)
      ? [
          {
            demand,
            amounts: amountsOf(one, wanted),
            parts: [...one.parts.keys()],
            when: one.when,
            apart: one.follows !== undefined,
          },
        ]
      : [],
  );
  const giving = drafts.flatMap((draft, at): Giving[] => {
    const index = kept.get(at);
    return index === undefined
      ? []
      : [{ choice: index, wave: draft.choice.wave, parts: givenTo(draft, (index) => place.get(index)) }];
  });
  const { covers, pools } = coversOf(sums, giving);
  const given = [...pools, ...piecePools(placed, choices)];
  return { demands: placed, choices, sourced, covers, pools: given.map((pool) => counted(pool, choices)) };
}

/** A tool comes with the first order that has anything of its family. */
function amountsOf({ requirement, follows }: Need, wanted: ByWave): number[] {
  return follows ? wanted.firstOf(follows, requirement) : wanted.amounts(requirement);
}

/** What a draft gives to each need, or to what stands for it in the problem. */
function choiceFor({ choice, parts, serves }: Draft, placeOf: (at: number) => number | undefined): Choice {
  const sums = new Map<number, number>();
  for (const { need: at, part } of serves) {
    const place = placeOf(at);
    if (place !== undefined) sums.set(place, (sums.get(place) ?? 0) + (parts.get(part) ?? 0));
  }
  return { ...choice, serves: [...sums].map(([demand, each]) => ({ demand, each })) };
}

/** What a draft gives of each part, to the demands that it serves with it: a pinned part comes from its offer alone. */
function givenTo({ parts, serves }: Draft, placeOf: (at: number) => number | undefined): Giving['parts'] {
  return [...parts].map(([part, each]) => ({
    each,
    demands: new Set(serves.flatMap((served) => (served.part === part ? (placeOf(served.need) ?? []) : []))),
  }));
}

function renumbered(demand: Demand, kept: ReadonlyMap<number, number>): Demand {
  const place = (choice: number) => kept.get(choice) ?? 0;
  return {
    ...demand,
    choices: demand.choices.map(place),
    patterns: demand.patterns && new Map([...demand.patterns].map(([at, patterns]) => [place(at), patterns])),
    ways: demand.ways.map((way) => ({
      units: way.units.map(({ choice, units }) => ({ choice: place(choice), units })),
      cuts: way.cuts.map((cut) => ({ ...cut, choice: place(cut.choice) })),
    })),
  };
}
