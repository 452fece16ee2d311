import { within, type Control } from '../../model/control.ts';
import { inequalityFor } from '../../cutting/inequalities.ts';
import type { Inequality } from '../../cutting/inequality.ts';
import { packInto, type Bin } from '../../cutting/packInto.ts';
import { startingInequalities } from '../../cutting/startingInequalities.ts';
import { exactToSolver } from '../../units/money.ts';
import type { Cut, Demand, Plan, Problem } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

/**
 * What is known of the lengths out of which a demand's pieces can be cut, where its patterns are too many to stand in the
 * model: inequalities that all such lengths satisfy, and lengths that are shown not to do, nor any that are no more.
 */
export interface Known {
  rows: readonly { worth: ReadonlyMap<number, number>; need: number }[];
  tooLittle: readonly TooLittle[];
  /** Ways that were found to cut all pieces, by the units that they were cut from. */
  cuts: ReadonlyMap<string, readonly Cut[]>;
}

/** No more lengths of each kind, and no longer continuous lengths of each order, than these: not all pieces come out. */
export type TooLittle = readonly { choices: readonly number[]; most: number }[];

/** By demand; none where it is cut by patterns. */
export type Knowledge = Map<number, Known>;

/** The lengths of one kind among a demand's choices: fixed ones by usable length and order, continuous ones by order. */
interface Kind {
  form: 'length' | 'metre';
  usableMm: number;
  wave: number;
  choices: number[];
}

function isCounted({ how, patterns }: Demand): boolean {
  return how === 'cut' && patterns === undefined;
}

/** Of the time that there is, what may be said before anything is solved takes no more than this. */
const SHARE = 0.25;

/** What can be said before anything is solved. */
export async function startingKnowledge(problem: Problem, control: Control): Promise<Knowledge> {
  const knowledge: Knowledge = new Map();
  const counted = [...problem.demands.entries()].filter(([, demand]) => isCounted(demand));
  if (counted.length === 0) return knowledge;
  const hurried = within(control, control.remainingMs() * SHARE);
  for (const [index, demand] of counted) {
    const kinds = kindsOf(problem, demand, index);
    const lengths = kinds.filter(({ form }) => form === 'length');
    const metres = kinds.filter(({ form }) => form === 'metre');
    const found = await startingInequalities(
      lengths.map((kind) => ({ usableMm: kind.usableMm, wave: kind.wave, price: cheapest(problem, kind) })),
      demand.pieces,
      hurried,
      metres.map((kind) => ({ wave: kind.wave, pricePerMm: cheapest(problem, kind) / kind.usableMm })),
    );
    knowledge.set(index, {
      rows: found.map((inequality) => rowOf(lengths, metres, inequality)),
      tooLittle: [],
      cuts: new Map(),
    });
  }
  return knowledge;
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

/**
 * Whether all pieces of the demands that are cut by counts come out of what the plan buys. Then the plan with its cuts;
 * else what was learnt goes into the knowledge, and the plan is none. Unknown where the cutting ran out of time.
 */
export async function judged(
  problem: Problem,
  plan: Plan,
  knowledge: Knowledge,
  control: Control,
): Promise<Plan | 'refused' | 'unknown'> {
  const cuts: (readonly Cut[])[] = [...plan.cuts];
  let refused = false;
  for (const [index, known] of knowledge) {
    const demand = problem.demands[index];
    const isAsked =
      demand && !plan.unmet.includes(index) && (demand.when?.some((at) => plan.options.includes(at)) ?? true);
    if (!isAsked) continue;
    const bought = demand.choices.map((choice) => plan.units[choice] ?? 0).join();
    const before = known.cuts.get(bought);
    const verdict = before ? { cuts: before } : await cutFrom(problem, demand, index, plan, control);
    if (verdict === 'unknown') return 'unknown';
    if ('cuts' in verdict) {
      cuts[index] = verdict.cuts;
      knowledge.set(index, { ...known, cuts: new Map(known.cuts).set(bought, verdict.cuts) });
    } else {
      refused = true;
      knowledge.set(index, {
        ...known,
        rows: verdict.row ? [...known.rows, verdict.row] : known.rows,
        tooLittle: verdict.row ? known.tooLittle : [...known.tooLittle, verdict.tooLittle],
      });
    }
  }
  return refused ? 'refused' : { ...plan, cuts };
}

type Verdict =
  { cuts: readonly Cut[] } | { row: Known['rows'][number] | undefined; tooLittle: TooLittle } | 'unknown';

async function cutFrom(
  problem: Problem,
  demand: Demand,
  index: number,
  { units }: Plan,
  control: Control,
): Promise<Verdict> {
  const kinds = kindsOf(problem, demand, index);
  const lengths = kinds.filter(({ form }) => form === 'length');
  const metres = kinds.filter(({ form }) => form === 'metre');
  const bought = ({ choices }: Kind) => choices.reduce((sum, at) => sum + (units[at] ?? 0), 0);
  const mm = (kind: Kind) => bought(kind) * kind.usableMm;
  const at = {
    lengths: lengths.map(bought),
    metres: metres.map((kind) => ({ mm: mm(kind), wave: kind.wave })),
  };
  const broken = await inequalityFor(lengths, demand.pieces, at.lengths, control, at.metres);
  // One continuous length an order: of another offer one no longer is as little use.
  const continuous = (wave: number) =>
    metres.reduce((sum, kind) => sum + (kind.wave === wave ? mm(kind) : 0), 0);
  const tooLittle: TooLittle = kinds.map((kind) => ({
    choices: kind.choices,
    most: kind.form === 'length' ? bought(kind) : Math.floor(continuous(kind.wave) / kind.usableMm),
  }));
  if (broken) return { row: rowOf(lengths, metres, broken), tooLittle };
  const owners: { choice: number; bin: Bin }[] = demand.choices.flatMap((choice) => {
    const bin = binOf(problem, index, choice, units[choice] ?? 0);
    return bin ? [{ choice, bin }] : [];
  });
  const packing = await packInto(
    owners.map(({ bin }) => bin),
    demand.pieces,
    control,
  );
  if (packing.status === 'unknown') return 'unknown';
  if (packing.status === 'impossible') return { row: undefined, tooLittle };
  return {
    cuts: packing.lengths.map(({ bin, lengths: times, pieces }) => ({
      choice: owners[bin]?.choice ?? 0,
      lengths: times,
      pieces,
    })),
  };
}

function binOf(problem: Problem, index: number, at: number, units: number): Bin | undefined {
  const choice = problem.choices[at];
  if (!choice || units === 0) return undefined;
  const each = eachFor(choice, index);
  return choice.form === 'metre'
    ? { usableMm: each * units, count: 1, wave: choice.wave }
    : { usableMm: each, count: units, wave: choice.wave };
}

function kindsOf(problem: Problem, demand: Demand, index: number): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const at of demand.choices) {
    const choice = problem.choices[at];
    if (!choice) continue;
    const form = choice.form === 'metre' ? 'metre' : 'length';
    const usableMm = eachFor(choice, index);
    // Continuous lengths of one order differ in their steps, and are told apart by these.
    const key = `${form} ${usableMm} ${choice.wave}`;
    const kind = kinds.get(key) ?? { form, usableMm, wave: choice.wave, choices: [] };
    kind.choices.push(at);
    kinds.set(key, kind);
  }
  return [...kinds.values()];
}

/** An inequality in units of the demand's choices. */
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
