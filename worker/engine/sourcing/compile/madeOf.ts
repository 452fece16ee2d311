import { addTo } from '../../model/group.ts';
import { coversOf, type Giving, type SumRequirement } from './covers.ts';
import { piecesRequirement, sumRequirement } from './requirements.ts';
import { counted, piecePools } from './pools.ts';
import type { Draft } from '../offered/drafts.ts';
import { isSum, type AskedRequirement } from '../asked/requirements.ts';
import type { Choice, Requirement, Problem } from '../problem/problem.ts';
import { amountOf, type ByWave } from '../asked/waves.ts';

interface Making {
  waves: number;
  /** Of a supplier in an order: its code. */
  codeOf: (supplier: number) => string;
  oneColourOneSupplier: boolean;
  /** Told of each requirement that the choices cannot meet. */
  untold: (requirement: AskedRequirement) => void;
}

type Made = Pick<Problem, 'requirements' | 'covers' | 'pools' | 'choices'> & { sourced: AskedRequirement[] };

/** What is asked for and can be met, as the problem states it; the drafts that serve some of it as choices. */
export function madeOf(
  asked: readonly AskedRequirement[],
  drafts: readonly Draft[],
  wanted: ByWave,
  making: Making,
): Made {
  const all = drafts.map((draft) => choiceFor(draft, (at) => at));
  const servingOf = new Map<number, number[]>();
  all.forEach(({ serves }, at) => {
    for (const { requirement } of serves) addTo(servingOf, requirement, at);
  });
  const requirementFor = (one: AskedRequirement, index: number): Requirement | undefined => {
    const serving = servingOf.get(index) ?? [];
    const { rolledUp, when } = one;
    if (serving.length === 0 && when === undefined) return undefined;
    const from = {
      id: rolledUp.id,
      when,
      waves: making.waves,
      codeOf: making.codeOf,
      oneSupplier: rolledUp.kind === 'wire' && making.oneColourOneSupplier,
    };
    const requirement = isSum(rolledUp)
      ? sumRequirement(from, amountOf(rolledUp), index, all, serving)
      : piecesRequirement(from, wanted.pieces(rolledUp), index, all, serving);
    if (!requirement) making.untold(one);
    return requirement;
  };
  const requirements = asked.map(requirementFor);
  const place = new Map<number, number>();
  requirements.forEach((requirement, at) => requirement && place.set(at, place.size));
  const kept = new Map<number, number>();
  const serving = new Set(requirements.flatMap((requirement) => requirement?.choices ?? []));
  drafts.forEach((_, at) => serving.has(at) && kept.set(at, kept.size));
  const chosen = requirements.map((requirement) => new Set(requirement?.choices));
  const choices = drafts.flatMap((draft, at) =>
    kept.has(at)
      ? [choiceFor(draft, (index) => (chosen[index]?.has(at) ? place.get(index) : undefined))]
      : [],
  );
  const placed = requirements.flatMap((requirement) => (requirement ? [renumbered(requirement, kept)] : []));
  const sourced = asked.filter((_, index) => place.has(index));
  const sums = sourced.flatMap((one, requirement): SumRequirement[] =>
    isSum(one.rolledUp)
      ? [
          {
            requirement,
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
  return {
    requirements: placed,
    choices,
    sourced,
    covers,
    pools: given.map((pool) => counted(pool, choices)),
  };
}

/** A tool comes with the first order that has anything of its family. */
function amountsOf({ rolledUp, follows }: AskedRequirement, wanted: ByWave): number[] {
  return follows ? wanted.firstOf(follows, rolledUp) : wanted.amounts(rolledUp);
}

/** What a draft gives to each requirement, or to what stands for it in the problem. */
function choiceFor({ choice, parts, serves }: Draft, placeOf: (at: number) => number | undefined): Choice {
  const sums = new Map<number, number>();
  for (const { requirement: at, part } of serves) {
    const place = placeOf(at);
    if (place !== undefined) sums.set(place, (sums.get(place) ?? 0) + (parts.get(part) ?? 0));
  }
  return { ...choice, serves: [...sums].map(([requirement, each]) => ({ requirement, each })) };
}

/** What a draft gives of each part, to the requirements that it serves with it: a pinned part comes from its offer alone. */
function givenTo({ parts, serves }: Draft, placeOf: (at: number) => number | undefined): Giving['parts'] {
  return [...parts].map(([part, each]) => ({
    each,
    requirements: new Set(
      serves.flatMap((served) => (served.part === part ? (placeOf(served.requirement) ?? []) : [])),
    ),
  }));
}

function renumbered(requirement: Requirement, kept: ReadonlyMap<number, number>): Requirement {
  const place = (choice: number) => kept.get(choice) ?? 0;
  return {
    ...requirement,
    choices: requirement.choices.map(place),
    patterns:
      requirement.patterns &&
      new Map([...requirement.patterns].map(([at, patterns]) => [place(at), patterns])),
    ways: requirement.ways.map((way) => ({
      units: way.units.map(({ choice, units }) => ({ choice: place(choice), units })),
      cuts: way.cuts.map((cut) => ({ ...cut, choice: place(cut.choice) })),
    })),
  };
}
