import { within, type Control } from '../../model/control.ts';
import { inequalityFor } from '../../cutting/inequalities.ts';
import type { Inequality } from '../../cutting/inequality.ts';
import { packInto, packPlainly, type Bin, type Packing } from '../../cutting/packInto.ts';
import { startingInequalities } from '../../cutting/startingInequalities.ts';
import { exactToSolver } from '../../units/money.ts';
import type { Cut, Requirement, Plan, Problem } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

/**
 * What is known of the lengths out of which a requirement's pieces can be cut, where its patterns are too many to stand in the
 * model: inequalities that all such lengths satisfy, and lengths that are shown not to do, nor any that are no more.
 */
export interface Known {
  rows: readonly { worth: ReadonlyMap<number, number>; need: number }[];
  tooLittle: readonly TooLittle[];
  /** Ways that were found to cut all pieces, by the units that they were cut from. */
  cuts: ReadonlyMap<string, readonly Cut[]>;
  /** With how much effort it could not be said whether all pieces come out, by units. */
  tried: ReadonlyMap<string, number>;
}

/** No more lengths of each kind, and no longer continuous lengths of each order, than these: not all pieces come out. */
export type TooLittle = readonly { choices: readonly number[]; most: number }[];

/** By requirement; none where it is cut by patterns. */
export type Knowledge = Map<number, Known>;

/** The lengths of one kind among a requirement's choices: fixed ones by usable length and order, continuous ones by order. */
interface Kind {
  form: 'length' | 'metre';
  usableMm: number;
  wave: number;
  choices: number[];
}

function isCounted({ how, patterns }: Requirement): boolean {
  return how === 'cut' && patterns === undefined;
}

/** Of the time that there is, what may be said before anything is solved takes no more than this. */
const SHARE = 0.25;

/** What can be said before anything is solved, of the requirements that are asked for. */
export async function startingKnowledge(
  problem: Problem,
  control: Control,
  asked: (requirement: number) => boolean = () => true,
): Promise<Knowledge> {
  const knowledge: Knowledge = new Map();
  const counted = [...problem.requirements.entries()].filter(
    ([index, requirement]) => isCounted(requirement) && asked(index),
  );
  if (counted.length === 0) return knowledge;
  const hurried = within(control, control.remainingMs() * SHARE);
  for (const [index, requirement] of counted)
    knowledge.set(index, {
      rows: await startingRows(problem, requirement, index, hurried),
      tooLittle: [],
      cuts: new Map(),
      tried: new Map(),
    });
  return knowledge;
}

/** Inequalities that all lengths satisfy out of which the pieces of a requirement that is cut can come, in units of its choices. */
export async function startingRows(
  problem: Problem,
  requirement: Requirement,
  index: number,
  control: Control,
): Promise<Known['rows']> {
  const kinds = kindsOf(problem, requirement, index);
  const lengths = kinds.filter(({ form }) => form === 'length');
  const metres = kinds.filter(({ form }) => form === 'metre');
  const found = await startingInequalities(
    lengths.map((kind) => ({ usableMm: kind.usableMm, wave: kind.wave, price: cheapest(problem, kind) })),
    requirement.pieces,
    control,
    metres.map((kind) => ({ wave: kind.wave, pricePerMm: cheapest(problem, kind) / kind.usableMm })),
  );
  return found.map((inequality) => rowOf(lengths, metres, inequality));
}

/** What a unit of the cheapest of a kind costs, for a first guess at what lengths are worth. */
function cheapest(problem: Problem, { choices }: Kind): number {
  return choices.reduce((least, at) => {
    const choice = problem.choices[at];
    const price = (choice?.tiers ?? []).reduce(
      (low, tier) => (tier.price < low ? tier.price : low),
      choice?.tiers[0]?.price ?? 0n,
    );
    return Math.min(least, exactToSolver(price));
  }, Infinity);
}

/** Lengths bought for a requirement of which the cutting could not say whether they are enough. */
export interface Open {
  requirement: number;
  plan: Plan;
  /** The same as no more of each kind than these. */
  lengths: TooLittle;
}

/**
 * Whether all pieces of the requirements that are cut by counts come out of what the plan buys. Then the plan with its cuts;
 * refused, where what was learnt went into the knowledge; else of which requirements that could not be said with so much effort.
 */
export async function judged(
  problem: Problem,
  plan: Plan,
  knowledge: Knowledge,
  control: Control,
  effort: number,
): Promise<Plan | 'refused' | Open[]> {
  const cuts: (readonly Cut[])[] = [...plan.cuts];
  const open: Open[] = [];
  let refused = false;
  for (const index of knowledge.keys()) {
    const requirement = problem.requirements[index];
    const isAsked =
      requirement &&
      !plan.unmet.includes(index) &&
      (requirement.when?.some((at) => plan.options.includes(at)) ?? true);
    if (!isAsked) continue;
    const verdict = await judgedOf(problem, plan, index, knowledge, control, effort);
    if (verdict === 'refused') refused = true;
    else if (verdict === 'unknown')
      open.push({ requirement: index, plan, lengths: lengthsIn(problem, requirement, index, plan) });
    else cuts[index] = verdict;
  }
  return refused ? 'refused' : open.length > 0 ? open : { ...plan, cuts };
}

/** The same of one requirement: its cuts, or what came of it. */
export async function judgedOf(
  problem: Problem,
  plan: Plan,
  index: number,
  knowledge: Knowledge,
  control: Control,
  effort: number,
): Promise<readonly Cut[] | 'refused' | 'unknown'> {
  const requirement = problem.requirements[index];
  const known = knowledge.get(index);
  if (!requirement || !known) return [];
  const bought = requirement.choices.map((choice) => plan.units[choice] ?? 0).join();
  const before = known.cuts.get(bought);
  if (before) return before;
  if ((known.tried.get(bought) ?? -1) >= effort) return 'unknown';
  const verdict = await cutFrom(problem, requirement, index, plan, control, effort);
  if (verdict === 'unknown') {
    // What time ended may be told with the same effort.
    if (control.remainingMs() > 0)
      knowledge.set(index, { ...known, tried: new Map(known.tried).set(bought, effort) });
    return 'unknown';
  }
  if ('cuts' in verdict) {
    knowledge.set(index, { ...known, cuts: new Map(known.cuts).set(bought, verdict.cuts) });
    return verdict.cuts;
  }
  knowledge.set(
    index,
    verdict.row
      ? { ...known, rows: [...known.rows, verdict.row] }
      : { ...known, tooLittle: [...known.tooLittle, lengthsIn(problem, requirement, index, plan)] },
  );
  return 'refused';
}

type Verdict = { cuts: readonly Cut[] } | { row: Known['rows'][number] | undefined } | 'unknown';

async function cutFrom(
  problem: Problem,
  requirement: Requirement,
  index: number,
  { units }: Plan,
  control: Control,
  effort: number,
): Promise<Verdict> {
  const owners: { choice: number; bin: Bin }[] = requirement.choices.flatMap((choice) => {
    const bin = binOf(problem, index, choice, units[choice] ?? 0);
    return bin ? [{ choice, bin }] : [];
  });
  const bins = owners.map(({ bin }) => bin);
  const cutsOf = ({ lengths }: Extract<Packing, { status: 'packed' }>) =>
    lengths.map(({ bin, lengths: times, pieces }) => ({
      choice: owners[bin]?.choice ?? 0,
      lengths: times,
      pieces,
    }));
  const plain = packPlainly(bins, requirement.pieces);
  if (plain) return { cuts: cutsOf(plain) };
  const kinds = kindsOf(problem, requirement, index);
  const lengths = kinds.filter(({ form }) => form === 'length');
  const metres = kinds.filter(({ form }) => form === 'metre');
  const bought = ({ choices }: Kind) => choices.reduce((sum, at) => sum + (units[at] ?? 0), 0);
  const broken = await inequalityFor(
    lengths,
    requirement.pieces,
    lengths.map(bought),
    control,
    metres.map((kind) => ({ mm: bought(kind) * kind.usableMm, wave: kind.wave })),
  );
  if (broken) return { row: rowOf(lengths, metres, broken) };
  const packing = await packInto(bins, requirement.pieces, control, effort);
  if (packing.status === 'unknown') return 'unknown';
  return packing.status === 'impossible' ? { row: undefined } : { cuts: cutsOf(packing) };
}

/** What a plan buys for a requirement, as the most of each kind. */
function lengthsIn(problem: Problem, requirement: Requirement, index: number, { units }: Plan): TooLittle {
  const kinds = kindsOf(problem, requirement, index);
  const bought = ({ choices }: Kind) => choices.reduce((sum, at) => sum + (units[at] ?? 0), 0);
  // Where there is one continuous length an order: of another offer one no longer is as little use.
  const continuous = (wave: number) =>
    kinds.reduce(
      (sum, kind) => sum + (kind.form === 'metre' && kind.wave === wave ? bought(kind) * kind.usableMm : 0),
      0,
    );
  return kinds.map((kind) => ({
    choices: kind.choices,
    most:
      kind.form === 'length' || requirement.several
        ? bought(kind)
        : Math.floor(continuous(kind.wave) / kind.usableMm),
  }));
}

function binOf(problem: Problem, index: number, at: number, units: number): Bin | undefined {
  const choice = problem.choices[at];
  if (!choice || units === 0) return undefined;
  const each = eachFor(choice, index);
  return choice.form === 'metre'
    ? { usableMm: each * units, count: 1, wave: choice.wave }
    : { usableMm: each, count: units, wave: choice.wave };
}

function kindsOf(problem: Problem, requirement: Requirement, index: number): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const at of requirement.choices) {
    const choice = problem.choices[at];
    if (!choice) continue;
    const form = choice.form === 'metre' ? 'metre' : 'length';
    const usableMm = eachFor(choice, index);
    // Continuous lengths of one order differ in their steps, and are told apart by these; where there may be several, each is
    // of its own kind.
    const key = `${form} ${usableMm} ${choice.wave} ${form === 'metre' && requirement.several ? at : ''}`;
    const kind = kinds.get(key) ?? { form, usableMm, wave: choice.wave, choices: [] };
    kind.choices.push(at);
    kinds.set(key, kind);
  }
  return [...kinds.values()];
}

/** An inequality in units of the requirement's choices. */
function rowOf(
  lengths: readonly Kind[],
  metres: readonly Kind[],
  { worth, perMm, need }: Inequality,
): Known['rows'][number] {
  const each = new Map<number, number>();
  lengths.forEach(({ choices }, kind) => {
    for (const at of choices) each.set(at, worth[kind] ?? 0);
  });
  metres.forEach(({ choices, usableMm }, kind) => {
    for (const at of choices) each.set(at, (perMm[kind] ?? 0) * usableMm);
  });
  return { worth: each, need };
}
