import { boughtOf, coverOfStaying, mustStay, type Bought } from './bought.ts';
import { optionsLeft, type OptionsLeft } from './optionsLeft.ts';
import { formerOf, placesOf, type Places } from './places.ts';
import type {
  Band,
  Choice,
  Cover,
  Cut,
  CutWay,
  Requirement,
  Pool,
  Problem,
  SupplierTerms,
  Tier,
} from './problem.ts';
import { eachFor } from './units.ts';

/** What becomes of a problem; what is not named stays as it is. Places are those in the problem before the change. */
export interface Change {
  /** Which choices can still be bought. */
  choices?: (choice: Choice, at: number) => boolean;
  /** What the choices cost. */
  tiers?: (choice: Choice, at: number) => readonly Tier[];
  bands?: (terms: SupplierTerms, at: number) => readonly Band[];
  /** Infinity: any number. */
  atMostSuppliers?: number;
  insistOn?: readonly string[];
  /** Which options may be chosen: of each group one at least. */
  options?: (option: number) => boolean;
  /** Which requirements stay; those after one that does not move up. What serves none that stays cannot be bought. */
  requirements?: (requirement: Requirement, at: number) => boolean;
  /**
   * One more requirement, the last; a unit of its choices gives it so much. It is a cut where they are cut, else a sum: no length
   * is both. Waste is not counted by it.
   */
  added?: Added;
  /**
   * Units of each choice that are bought already. All from one supplier in one order are one choice and one requirement more,
   * so that postage and thresholds follow, and give to sums what they gave; no more is bought of these choices. What is
   * cut, or comes in one length, is asked for anew.
   */
  bought?: readonly number[];
  /**
   * Leaves out what cannot be bought, with suppliers and stock of which nothing can be; covers that what is bought meets
   * and nothing else gives to; and where there is but one option it, with the requirements of those that are not chosen. What is
   * bought already stands first. Without this choices keep their places, and what is new stands last.
   */
  drop?: boolean;
}

export interface Added {
  requirement: Requirement;
  each: number;
}

/** Where what a changed problem holds stood before the change; undefined of what is new. */
export interface FormerPlaces {
  choices: Places;
  requirements: Places;
}

/**
 * The one way from a problem to another. What is bought in it, priced in it, is so in the problem that it was, but for other
 * prices and bands.
 */
export function changed(problem: Problem, change: Change): Problem {
  const to = changingOf(problem, change);
  const { bought, arranged } = to;
  const { atMostSuppliers = problem.atMostSuppliers, insistOn = problem.insistOn, added } = change;
  const staying = bought.choices.map((_, share) => [to.requirementOf(share), to.choiceOf(share)] as const);
  return {
    scale: problem.scale,
    requirements: [
      ...arranged(
        staying.map(([, choice]) => mustStay(choice)),
        problem.requirements.flatMap((requirement, at) => requirementIn(to, requirement, at)),
      ),
      ...(added ? [requirementOf(to, added.requirement, [])] : []),
    ],
    covers: [
      ...arranged(
        staying.map(([requirement, choice]) => coverOfStaying(requirement, choice)),
        problem.covers.flatMap((cover) => coverIn(to, cover)),
      ),
      ...(added ? coversOfAdded(to, added) : []),
    ],
    pools: problem.pools.flatMap((pool) => poolIn(to, pool)),
    groups: to.options.groups,
    choices: arranged(
      stayingChoices(to),
      problem.choices.flatMap((choice, at) => choiceIn(to, change, choice, at)),
    ),
    suppliers: problem.suppliers.flatMap((terms, at) => supplierIn(to, change, terms, at)),
    sharedStock: problem.sharedStock.flatMap((stock) => stockIn(to, change, stock)),
    atMostSuppliers: atMostSuppliers === Infinity ? undefined : atMostSuppliers,
    insistOn,
  } satisfies Each<Problem>;
}

/** Where what `changed` gives stood in the problem. */
export function formerPlaces(problem: Problem, change: Change): FormerPlaces {
  const { bought, arranged, choices, requirements } = changingOf(problem, change);
  const unknown = bought.choices.map(() => undefined);
  return {
    choices: arranged<number | undefined>(unknown, formerOf(choices)),
    requirements: [
      ...arranged<number | undefined>(unknown, formerOf(requirements)),
      ...(change.added ? [undefined] : []),
    ],
  };
}

/** Every field of a type, also those that may be left out: a field that is added to it must be dealt with here. */
type Each<T> = { [Key in keyof Required<T>]: T[Key] };

/** What stays, and where it stands. */
interface Changing {
  choices: Places;
  requirements: Places;
  suppliers: Places;
  /** The place of a choice of which something can be bought. */
  openAt: (choice: number) => number | undefined;
  tiersOf: (choice: number) => readonly Tier[];
  options: OptionsLeft;
  bought: Bought;
  /** What each share of what is bought gives to each sum that stays, by its former place. */
  givenTo: readonly (readonly number[])[];
  /** The places of the choice and the requirement of a share of what is bought. */
  choiceOf: (share: number) => number;
  requirementOf: (share: number) => number;
  /** The place of a requirement that is added. */
  added: number;
  /** What is bought already and what else there is, in the order of their places. */
  arranged: <T>(staying: readonly T[], others: readonly T[]) => T[];
  drop: boolean;
}

function changingOf(problem: Problem, change: Change): Changing {
  const { choices: isKept, tiers, requirements: isAsked, added, drop = false } = change;
  const priced = tiers
    ? problem.choices.map((choice, at) => ({ ...choice, tiers: tiers(choice, at) }))
    : problem.choices;
  const bought = boughtOf({ choices: priced, suppliers: problem.suppliers }, change.bought);
  const shares = bought.choices.length;
  const options = optionsLeft(problem.groups, change.options, drop);
  const stays = problem.requirements.map(
    (requirement, at) => options.mayCount(requirement.when) && (isAsked?.(requirement, at) ?? true),
  );
  const serving = new Set(added?.requirement.choices);
  const isOpen = problem.choices.map(
    (choice, at) =>
      choice.tiers.length > 0 &&
      (isKept?.(choice, at) ?? true) &&
      (change.bought?.[at] ?? 0) === 0 &&
      (choice.serves.some(({ requirement }) => stays[requirement]) || serving.has(at)),
  );
  const first = drop ? shares : 0;
  const choices = placesOf(problem.choices.length, (at) => !drop || isOpen[at] === true, first);
  const requirements = placesOf(problem.requirements.length, (at) => stays[at] === true, first);
  const sending = new Set(bought.choices.map(({ supplier }) => supplier));
  problem.choices.forEach(({ supplier }, at) => isOpen[at] && sending.add(supplier));
  const suppliers = placesOf(problem.suppliers.length, (at) => !drop || sending.has(at), 0);
  const asked = formerOf(requirements).length;
  return {
    choices,
    requirements,
    suppliers,
    openAt: (choice) => (isOpen[choice] === true ? choices[choice] : undefined),
    tiersOf: (choice) => priced[choice]?.tiers ?? [],
    options,
    bought,
    givenTo: problem.requirements.map(({ how }, requirement) =>
      how === 'sum' && stays[requirement] === true
        ? bought.given((choice) => eachFor(choice, requirement))
        : [],
    ),
    choiceOf: (share) => (drop ? share : problem.choices.length + share),
    requirementOf: (share) => (drop ? share : asked + share),
    added: asked + shares,
    arranged: (staying, others) => (drop ? [...staying, ...others] : [...others, ...staying]),
    drop,
  };
}

function choiceIn(to: Changing, { added }: Change, choice: Choice, at: number): Choice[] {
  if (to.choices[at] === undefined) return [];
  const isOpen = to.openAt(at) !== undefined;
  const also = added?.requirement.choices.includes(at) ? [{ requirement: to.added, each: added.each }] : [];
  return [
    {
      offer: choice.offer,
      supplier: to.suppliers[choice.supplier] ?? 0,
      wave: choice.wave,
      form: choice.form,
      serves: isOpen ? [...choice.serves.flatMap((served) => servedIn(to, served)), ...also] : [],
      tiers: isOpen ? to.tiersOf(at) : [],
      step: choice.step,
      mostUnits: isOpen ? choice.mostUnits : 0,
      microgramsPerUnit: choice.microgramsPerUnit,
      piecesPerUnit: choice.piecesPerUnit,
    } satisfies Each<Choice>,
  ];
}

function servedIn(to: Changing, { requirement, each }: Choice['serves'][number]): Choice['serves'] {
  const place = to.requirements[requirement];
  return place === undefined ? [] : [{ requirement: place, each } satisfies Each<Choice['serves'][number]>];
}

/** What is bought already, as choices: each serves its own requirement, and the sums to which it gives. */
function stayingChoices(to: Changing): Choice[] {
  return to.bought.choices.map((choice, share) => ({
    ...choice,
    supplier: to.suppliers[choice.supplier] ?? 0,
    serves: [
      { requirement: to.requirementOf(share), each: 1 },
      ...to.givenTo.flatMap((given, requirement) => {
        const each = given[share] ?? 0;
        return each > 0 ? servedIn(to, { requirement, each }) : [];
      }),
    ],
  }));
}

function requirementIn(to: Changing, requirement: Requirement, at: number): Requirement[] {
  if (to.requirements[at] === undefined) return [];
  const staying = to.givenTo[at]?.flatMap((each, share) => (each > 0 ? [to.choiceOf(share)] : [])) ?? [];
  return [requirementOf(to, requirement, staying)];
}

/** A requirement served by what can be bought of its choices, and by what is bought already. */
function requirementOf(to: Changing, requirement: Requirement, staying: readonly number[]): Requirement {
  return {
    id: requirement.id,
    need: requirement.need,
    how: requirement.how,
    pieces: requirement.pieces,
    oneSupplier: requirement.oneSupplier,
    several: requirement.several,
    when: to.options.whenOf(requirement.when),
    choices: to.arranged(
      staying,
      requirement.choices.flatMap((choice) => to.openAt(choice) ?? []),
    ),
    patterns:
      requirement.patterns &&
      new Map(
        [...requirement.patterns].flatMap(([choice, patterns]) => {
          const place = to.openAt(choice);
          return place === undefined ? [] : [[place, patterns] as const];
        }),
      ),
    ways: requirement.ways.flatMap((way) => wayIn(to, way)),
  } satisfies Each<Requirement>;
}

function wayIn({ openAt }: Changing, { units, cuts }: CutWay): CutWay[] {
  if (units.some(({ choice }) => openAt(choice) === undefined)) return [];
  const place = (choice: number) => openAt(choice) ?? -1;
  return [
    {
      units: units.map(
        ({ choice, units: count }) =>
          ({ choice: place(choice), units: count }) satisfies Each<CutWay['units'][number]>,
      ),
      cuts: cuts.map(
        ({ choice, lengths, pieces }) => ({ choice: place(choice), lengths, pieces }) satisfies Each<Cut>,
      ),
    } satisfies Each<CutWay>,
  ];
}

function coverIn(to: Changing, { members: former, gives }: Cover): Cover[] {
  const members = former.flatMap(({ requirement, need, when }): Member[] => {
    const place = to.requirements[requirement];
    const options = when === undefined ? undefined : [when];
    if (place === undefined || !to.options.mayCount(options)) return [];
    return [{ requirement: place, need, when: to.options.whenOf(options)?.[0] } satisfies Each<Member>];
  });
  if (members.length === 0) return [];
  const { staying, others } = givesIn(to, gives);
  const need = members.reduce((sum, member) => sum + member.need, 0);
  const given = staying.reduce((sum, { each }) => sum + each, 0);
  if (to.drop && others.length === 0 && given >= need) return [];
  return [{ members, gives: to.arranged(staying, others) } satisfies Each<Cover>];
}

type Member = Cover['members'][number];
type Give = (Cover & Pool)['gives'][number];

function poolIn(to: Changing, pool: Pool): Pool[] {
  const requirements = pool.requirements.flatMap((requirement) => to.requirements[requirement] ?? []);
  if (requirements.length === 0) return [];
  const { staying, others } = givesIn(to, pool.gives);
  return [{ requirements, need: pool.need, gives: to.arranged(staying, others) } satisfies Each<Pool>];
}

function givesIn(to: Changing, gives: readonly Give[]): { staying: Give[]; others: Give[] } {
  const given = to.bought.given((_, at) => gives.find(({ choice }) => choice === at)?.each ?? 0);
  return {
    staying: given.flatMap((each, share) => (each > 0 ? [{ choice: to.choiceOf(share), each }] : [])),
    others: gives.flatMap(({ choice, each }) => {
      const place = to.openAt(choice);
      return place === undefined ? [] : [{ choice: place, each } satisfies Each<Give>];
    }),
  };
}

function supplierIn(to: Changing, { bands }: Change, terms: SupplierTerms, at: number): SupplierTerms[] {
  if (to.suppliers[at] === undefined) return [];
  return [
    {
      code: terms.code,
      wave: terms.wave,
      own: terms.own,
      bands: bands ? bands(terms, at) : terms.bands,
    } satisfies Each<SupplierTerms>,
  ];
}

type Stock = Problem['sharedStock'][number];

function stockIn(to: Changing, { bought = [] }: Change, { choices, mostUnits }: Stock): Stock[] {
  if (!choices.some((choice) => to.openAt(choice) !== undefined)) return [];
  const taken = choices.reduce((sum, choice) => sum + (bought[choice] ?? 0), 0);
  return [
    {
      choices: choices.flatMap((choice) => to.choices[choice] ?? []),
      mostUnits: mostUnits - taken,
    } satisfies Each<Stock>,
  ];
}

/** Of a sum: what must be bought for the requirement that is added, by each option on which it hangs. */
function coversOfAdded(to: Changing, { requirement, each }: Added): Cover[] {
  const { how, need, choices } = requirement;
  if (how !== 'sum') return [];
  const gives = choices.flatMap((choice) => {
    const place = to.openAt(choice);
    return place === undefined ? [] : [{ choice: place, each }];
  });
  const whens = to.options.whenOf(requirement.when) ?? [undefined];
  return whens.map((when) => ({ members: [{ requirement: to.added, need, when }], gives }));
}
