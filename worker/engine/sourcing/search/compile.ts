import { gcd } from '../../units/gcd.ts';
import { exactToSolver } from '../../units/money.ts';
import { coversByChoice, limitsOf } from '../problem/limits.ts';
import type { Cover, CutWay, Requirement, Problem } from '../problem/problem.ts';
import { eachFor, lineCost, unitsAtLeast } from '../problem/units.ts';
import { cutPlanOf, type CutPlan } from './cutPlan.ts';
import type { CutPlans } from './plansToCut.ts';
import type { Link, Network, NetworkRequirement, SharedChoice, Step, StockRow } from './network.ts';
import { MICROGRAMS, parcelsOf, type Parcels } from './parcels.ts';
import {
  alternatives,
  looseAmountsOf,
  looseStairOf,
  MOST_STEPS,
  offeredOf,
  stairOf,
  type Offered,
} from './stairs.ts';

/** Pieces out of a shared choice are told apart one by one up to so many. */
const MOST_PIECES = 4_000;
const PIECES = { value: 0, grams: 0, lines: [] };

/**
 * A problem as the search takes it. Every field of the problem is taken up here by name: one more does not compile until
 * this says what the search does with it. Undefined where some requirement has more ways to be met than can be written
 * out; such a problem is for the whole-number model.
 */
export function networkOf(problem: Problem, cutPlans: CutPlans): Network | undefined {
  const {
    // Parcels and steps are in minor units.
    scale: _,
    requirements,
    covers,
    // Only ties look at these.
    pools: __,
    groups,
    // Links are made of them, one requirement after the other.
    choices: ___,
    suppliers,
    sharedStock,
    atMostSuppliers = Infinity,
    insistOn,
    ...others
  } = problem;
  others satisfies Record<string, never>;
  const parcels = parcelsOf(problem);
  const building: Building = { problem, parcels, cutPlans, links: [], shared: sharedChoices(problem) };
  const asked = askedBy(covers);
  const own: NetworkRequirement[] = [];
  for (const [index, requirement] of requirements.entries()) {
    const links = linksOf(building, requirement, index, asked.get(index) ?? []);
    if (!links) return undefined;
    own.push(links);
  }
  const ready = own.map(({ isLoose }, index) => (isLoose ? readyPlans(building, index) : []));
  return {
    parcels,
    codes: suppliers.map(({ code }) => code),
    requirements: own,
    links: building.links,
    ready,
    shared: building.shared,
    stock: sharedStock.map(({ choices: ofRow, mostUnits }): StockRow => ({
      // Plans that are written out keep to stock by themselves.
      choices: new Set(
        ofRow.filter((at) => !cutPlans.plans.has(problem.choices[at]!.serves[0]?.requirement ?? -1)),
      ),
      mostUnits,
    })),
    groups,
    atMostSuppliers,
    insistOn,
  };
}

interface Building {
  problem: Problem;
  parcels: Parcels;
  cutPlans: CutPlans;
  links: Link[];
  shared: SharedChoice[];
}

/** What a requirement asks for by each order: its covers, least first. */
type Stages = readonly { need: number; gives: ReadonlyMap<number, number> }[];

function askedBy(covers: readonly Cover[]): Map<number, Stages> {
  const stages = new Map<number, { need: number; gives: ReadonlyMap<number, number> }[]>();
  for (const { members, gives } of covers) {
    const [member] = members;
    if (!member || members.length > 1) continue;
    const own = stages.get(member.requirement) ?? [];
    // A tool that several families ask for has a cover for each of these.
    if (!own.some(({ need }) => need === member.need))
      own.push({ need: member.need, gives: new Map(gives.map(({ choice, each }) => [choice, each])) });
    stages.set(member.requirement, own);
  }
  for (const own of stages.values()) own.sort((a, b) => a.need - b.need);
  return stages;
}

function linksOf(
  building: Building,
  requirement: Requirement,
  index: number,
  stages: Stages,
): NetworkRequirement | undefined {
  const { problem, links } = building;
  const first = links.length;
  const add = (link: Omit<Link, 'requirement'>) => links.push({ ...link, requirement: index });
  const done = (needs: readonly number[], unit = 1): NetworkRequirement => {
    const own = links.slice(first).map((_, at) => first + at);
    return {
      needs,
      unit,
      links: own,
      scopes: [own],
      listed: undefined,
      isLoose: false,
      isSum: requirement.how === 'sum',
      when: requirement.when,
    };
  };
  if (requirement.how === 'cut') {
    const plans = building.cutPlans.plans.get(index);
    if (!plans) return looseOf(building, requirement, index);
    const listed = listedOf(plans, first, (supplier, steps) =>
      add({
        supplier,
        stage: 0,
        shared: undefined,
        choices: requirement.choices.filter((at) => problem.choices[at]?.supplier === supplier),
        steps,
      }),
    );
    return { ...done([1]), listed };
  }
  if (requirement.how === 'single') {
    if (requirement.choices.some((at) => (problem.choices[at]?.serves.length ?? 0) > 1)) return undefined;
    for (const [supplier, own] of bySupplierOf(problem, requirement.choices)) {
      const offered = own.flatMap((at) => offeredOf(problem.choices, at, index));
      const steps = alternatives(
        offered,
        requirement.need,
        weighs(building.parcels, supplier),
        requirement.pieces,
      );
      if (steps.length > 0) add({ supplier, stage: 0, shared: undefined, choices: own, steps });
    }
    return done([1]);
  }
  const whole = stages.at(-1);
  const isShared = (at: number) => (problem.choices[at]?.serves.length ?? 0) > 1;
  const all = [...(whole?.gives ?? [])];
  // Counted in the largest measure in which all is whole; pieces out of shared choices one by one.
  const unit = all.some(([at]) => isShared(at)) ? 1 : all.reduce((sum, [, each]) => gcd(sum, each), 0) || 1;
  // An option's requirement that nothing serves has no cover of use.
  const needs = stages.length > 0 ? stages.map(({ need }) => Math.ceil(need / unit)) : [requirement.need];
  const need = needs.at(-1) ?? 0;
  let isLoose = false;
  for (const [stage, { gives }] of stages.entries()) {
    const before = stages[stage - 1]?.gives;
    const fresh = [...gives.keys()].filter((at) => before?.has(at) !== true);
    const sharedHere = fresh.filter(isShared);
    for (const at of sharedHere) {
      const shared = building.shared.findIndex(({ choice }) => choice === at);
      const supplier = problem.choices[at]?.supplier ?? 0;
      const most = Math.min(
        need,
        (gives.get(at) ?? 0) * (building.shared[shared]?.amounts.at(-1)?.units ?? 0),
      );
      if (most > MOST_PIECES) return undefined;
      const steps = Array.from({ length: most }, (_, piece) => ({ gives: piece + 1, ...PIECES }));
      if (steps.length > 0) add({ supplier, stage, shared, choices: [], steps });
    }
    const own = fresh.filter((at) => !sharedHere.includes(at));
    for (const [supplier, list] of bySupplierOf(problem, own)) {
      const offered = list.flatMap((at) =>
        offeredOf(problem.choices, at, index).map((one) => ({
          ...one,
          each: (gives.get(at) ?? one.each) / unit,
        })),
      );
      const byWeight = weighs(building.parcels, supplier);
      const all = stairOf(offered, need, byWeight);
      if (!all) isLoose = true;
      const steps = all ?? looseStairOf(offered, need, byWeight);
      if (steps.length > 0) add({ supplier, stage, shared: undefined, choices: list, steps });
    }
  }
  return { ...done(needs, unit), isLoose };
}

/**
 * Plans as steps of links, a link for each supplier, from `first` on. Undefined where each plan is one step: any of them will
 * do then.
 */
function listedOf(
  plans: readonly CutPlan[],
  first: number,
  addLink: (supplier: number, steps: Step[]) => void,
): NetworkRequirement['listed'] {
  const suppliers = [...new Set(plans.flatMap((plan) => plan.map(({ supplier }) => supplier)))];
  const steps = suppliers.map(() => new Map<string, Step>());
  const listed = plans.map((plan) =>
    plan.map(({ supplier, step }) => {
      const place = suppliers.indexOf(supplier);
      const key = JSON.stringify([step.lines, step.cuts]);
      const own = steps[place]!;
      if (!own.has(key)) own.set(key, step);
      return { link: first + place, step: [...own.keys()].indexOf(key) };
    }),
  );
  suppliers.forEach((supplier, place) => addLink(supplier, [...steps[place]!.values()]));
  return plans.some((plan) => plan.length > 1) ? listed : undefined;
}

/**
 * What is cut and has more ways than can be written out: by each order there must be as much in length as the pieces until
 * then. Undefined where a length serves something else too.
 */
function looseOf(
  building: Building,
  requirement: Requirement,
  index: number,
): NetworkRequirement | undefined {
  const { problem, parcels, links } = building;
  const chosen = requirement.choices.map((at) => problem.choices[at]!);
  if (chosen.some(({ serves }) => serves.length > 1)) return undefined;
  const waves = [
    ...new Set([
      ...requirement.pieces.map(({ wave = 1 }) => wave),
      ...chosen.map(({ wave }) => Math.max(1, wave)),
    ]),
  ].sort((a, b) => a - b);
  const mm = waves.map((wave) =>
    requirement.pieces.reduce(
      (sum, piece) => ((piece.wave ?? 1) <= wave ? sum + piece.mm * piece.count : sum),
      0,
    ),
  );
  const measure = measureOf(building, requirement, index, mm);
  const need = measure.needs.at(-1) ?? 0;
  const unit = Math.max(1, Math.ceil(need / MOST_MM));
  const first = links.length;
  for (const [stage, wave] of waves.entries())
    for (const [supplier, own] of bySupplierOf(problem, requirement.choices)) {
      const here = own.filter((at) => Math.max(1, problem.choices[at]!.wave) === wave);
      const offered = measure.offered.filter(({ at }) => here.includes(at));
      if (offered.length === 0) continue;
      const steps = stairOf(offered, need, weighs(parcels, supplier), looseAmountsOf);
      if (!steps) return undefined;
      const coarse = steps.map((step) => ({ ...step, gives: Math.ceil(step.gives / unit) }));
      // What counts for nothing is in none of the steps: nothing is known of it.
      const choices = offered.map(({ at }) => at);
      links.push({ requirement: index, supplier, stage, shared: undefined, choices, steps: coarse });
    }
  const all = links.slice(first).map((_, at) => first + at);
  const codeOf = (link: number) => problem.suppliers[links[link]!.supplier]!.code;
  const codes = [...new Set(all.map(codeOf))].filter((code) => code !== '');
  const scopes =
    requirement.oneSupplier && codes.length > 0
      ? codes.map((code) => all.filter((link) => ['', code].includes(codeOf(link))))
      : [all];
  return {
    needs: measure.needs.map((each) => Math.ceil(each / unit)),
    unit,
    links: all,
    scopes,
    listed: undefined,
    isLoose: true,
    isSum: false,
    when: requirement.when,
  };
}

/**
 * What lengths count by: their mm, or what they are worth by an inequality that all lengths satisfy out of which the pieces
 * come, where buying so much of that costs more.
 */
function measureOf(
  { problem, cutPlans }: Building,
  { choices }: Requirement,
  index: number,
  mm: readonly number[],
): { needs: readonly number[]; offered: Offered[] } {
  const byMm = choices.flatMap((at) => offeredOf(problem.choices, at, index));
  const measures = [
    { needs: mm, offered: byMm },
    ...(cutPlans.rows.get(index) ?? []).map(({ worth, need }) => ({
      needs: [need],
      offered: byMm.flatMap((one) => {
        const each = worth.get(one.at) ?? 0;
        return each > 0 ? [{ ...one, each }] : [];
      }),
    })),
  ];
  const costs = measures.map(({ needs, offered }) => {
    const [need, coarse] = [needs.at(-1) ?? 0, Math.max(1, (needs.at(-1) ?? 0) / MOST_MM)];
    const counted = offered.map((one) => ({ ...one, each: one.each / coarse }));
    return stairOf(counted, need / coarse, false, looseAmountsOf)?.at(-1)?.value ?? 0;
  });
  return measures[costs.indexOf(Math.max(...costs))]!;
}

/** Lengths are counted in so many steps at the most. */
const MOST_MM = 800;

/** Each choice that meets a sum alone. */
function waysAlone({ requirements, choices }: Problem, index: number): Pick<CutWay, 'units' | 'cuts'>[] {
  const requirement = requirements[index]!;
  return requirement.choices.flatMap((at) => {
    if (choices[at]!.serves.length > 1) return [];
    const units = unitsAtLeast(choices[at]!, Math.ceil(requirement.need / eachFor(choices[at]!, index)));
    return units === undefined ? [] : [{ units: [{ choice: at, units }], cuts: [] }];
  });
}

/** Ways to meet a requirement that are known, as plans out of links of their own. */
function readyPlans({ problem, links }: Building, index: number): { link: number; step: number }[][] {
  const { how, ways } = problem.requirements[index]!;
  return (how === 'sum' ? waysAlone(problem, index) : ways).map(({ units, cuts }) =>
    cutPlanOf(problem, units, cuts).map(({ supplier, step }) => {
      const choices = step.lines.map(({ choice }) => choice);
      links.push({ requirement: index, supplier, stage: 0, shared: undefined, choices, steps: [step] });
      return { link: links.length - 1, step: 0 };
    }),
  );
}

function bySupplierOf({ choices, sharedStock }: Problem, list: readonly number[]): [number, number[]][] {
  const bySupplier = new Map<string, [number, number[]]>();
  for (const at of list) {
    const supplier = choices[at]?.supplier ?? 0;
    // What takes of scarce stock is not left out for what costs no less.
    const isScarce = sharedStock.some(({ choices: own }) => own.includes(at));
    const key = isScarce ? `${supplier} ${at}` : `${supplier}`;
    const known = bySupplier.get(key);
    if (known) known[1].push(at);
    else bySupplier.set(key, [supplier, [at]]);
  }
  return [...bySupplier.values()];
}

/** Whether what a supplier's parcel weighs bears on what it costs. */
function weighs({ list, of }: Parcels, supplier: number): boolean {
  return (of[supplier] ?? []).some((at) => list[at]?.heldByWeight === true);
}

function sharedChoices(problem: Problem): SharedChoice[] {
  const covers = coversByChoice(problem.covers);
  return problem.choices.flatMap((choice, at): SharedChoice[] => {
    if (choice.serves.length < 2 || choice.tiers.length === 0) return [];
    const bands = problem.suppliers[choice.supplier]?.bands ?? [];
    const { most } = limitsOf(
      choice,
      { requirements: problem.requirements, covers: covers.get(at) ?? [] },
      bands,
    );
    const first = choice.tiers[0]?.fromUnits ?? 1;
    const amounts: number[] = [];
    // Between the ends of a price cost rises evenly, and so does what it gives: only ends matter to a bound. All stand
    // where they are few, so that plans can be made of them.
    if ((most - first) / choice.step <= MOST_STEPS)
      for (let units = first; units <= most; units += choice.step) amounts.push(units);
    else amounts.push(...choice.tiers.flatMap(({ fromUnits }) => [fromUnits, fromUnits - choice.step]), most);
    return [
      {
        choice: at,
        supplier: choice.supplier,
        amounts: [...new Set(amounts)]
          .filter((units) => units >= first && units <= most)
          .sort((a, b) => a - b)
          .map((units) => ({
            units,
            value: exactToSolver(lineCost(choice, units)),
            grams: (choice.microgramsPerUnit * units) / MICROGRAMS,
          })),
        capacities: capacitiesOf(problem, at),
      },
    ];
  });
}

/**
 * What a unit can give to each requirement, and to several together where that is less than to each of them: as the covers
 * say (Gale's condition, so that whatever keeps to all of these can be handed out).
 */
function capacitiesOf({ covers, choices }: Problem, at: number): SharedChoice['capacities'] {
  const eachOf = new Map((choices[at]?.serves ?? []).map(({ requirement, each }) => [requirement, each]));
  const rows = new Map<string, { requirements: number[]; each: number }>();
  for (const [requirement, each] of eachOf) rows.set(`${requirement}`, { requirements: [requirement], each });
  for (const { members, gives } of covers) {
    const each = gives.find(({ choice }) => choice === at)?.each;
    if (each === undefined) continue;
    const own = [
      ...new Set(
        members.map(({ requirement }) => requirement).filter((requirement) => eachOf.has(requirement)),
      ),
    ].sort((a, b) => a - b);
    const apart = own.reduce((sum, requirement) => sum + (eachOf.get(requirement) ?? 0), 0);
    if (own.length < 2 || each >= apart) continue;
    const key = own.join();
    // By an earlier order fewer of the parts count: the last says most.
    const known = rows.get(key);
    if (!known || known.each < each) rows.set(key, { requirements: own, each });
  }
  return [...rows.values()];
}
