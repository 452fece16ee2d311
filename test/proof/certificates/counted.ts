import type { Choice, Cover, Problem } from '../../../worker/engine/sourcing/problem/problem.ts';

/** What a supplier has for a requirement: offers with the pieces that a unit of each gives. */
export interface Offered {
  supplier: number;
  /** The first of the need's stages that it counts for. */
  stage: number;
  offers: readonly { place: number; choice: Choice; each: number }[];
}

/** A requirement of pieces: so many by each stage, in all at the last; offered by stage. */
export interface CountedRequirement {
  needs: readonly number[];
  offered: readonly Offered[];
}

/** Needs of more pieces, counted in the largest measure, are left aside. */
const MOST_PIECES = 2_000;

/**
 * The needs of a problem, by requirement; or in words what it has that is not recomputed here. Each field of a problem is named,
 * so that one more does not compile until this says what it does with it.
 */
export function countedRequirements(problem: Problem): CountedRequirement[] | string {
  const {
    scale: _,
    requirements,
    covers,
    // Only ties look at these.
    pools: __,
    groups,
    choices,
    suppliers: ___,
    sharedStock: ____,
    atMostSuppliers: _____,
    insistOn: ______,
    ...others
  } = problem;
  others satisfies Record<string, never>;
  if (groups.length > 0 || requirements.some(({ when }) => when !== undefined)) return 'families';
  if (requirements.some(({ how }) => how !== 'sum')) return 'lengths';
  if (choices.some(({ serves }) => serves.length > 1)) return 'kits and what is shared';
  if (covers.some(({ members }) => members.length !== 1)) return 'stand-ins';
  const counted = requirements.map((__, requirement) =>
    requirementOf(
      choices,
      covers.filter(({ members }) => members[0]?.requirement === requirement),
    ),
  );
  const unknown = counted.find((one) => typeof one === 'string');
  return unknown ?? counted.filter((one) => typeof one !== 'string');
}

function requirementOf(choices: Problem['choices'], covers: readonly Cover[]): CountedRequirement | string {
  const stages = covers
    .map(({ members, gives }) => ({
      need: members[0]?.need ?? 0,
      gives: new Map(gives.map(({ choice, each }) => [choice, each])),
    }))
    .sort((a, b) => a.need - b.need || a.gives.size - b.gives.size);
  const last = stages.at(-1);
  if (!last) return 'needs that nothing serves';
  const nests = stages.every(({ gives }, at) =>
    [...gives].every(([choice, each]) => (stages[at + 1] ?? last).gives.get(choice) === each),
  );
  if (!nests) return 'what counts for an earlier order alone';
  const measure = [...last.gives.values()].reduce((a, b) => divisor(a, b), 0) || 1;
  const needs = stages.map(({ need }) => Math.ceil(need / measure));
  if ((needs.at(-1) ?? 0) > MOST_PIECES) return 'needs of many pieces';
  const offered = new Map<string, Offered & { offers: { place: number; choice: Choice; each: number }[] }>();
  for (const [place, each] of last.gives) {
    const choice = choices[place];
    if (!choice || choice.tiers.length === 0) continue;
    const { supplier } = choice;
    const stage = stages.findIndex(({ gives }) => gives.has(place));
    const own = offered.get(`${supplier}.${stage}`) ?? { supplier, stage, offers: [] };
    own.offers.push({ place, choice, each: each / measure });
    offered.set(`${supplier}.${stage}`, own);
  }
  const list = [...offered.values()].sort((a, b) => a.stage - b.stage);
  if (new Set(list.map(({ supplier }) => supplier)).size < list.length)
    return 'a supplier that counts in several stages';
  return { needs, offered: list };
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}
