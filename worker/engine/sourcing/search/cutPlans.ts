import { packInto, packPlainly, type Bin, type Packing } from '../../cutting/packInto.ts';
import { SUM_OF_PRICES } from '../../solver/tolerances.ts';
import type { Control } from '../../model/control.ts';
import { exactToSolver } from '../../units/money.ts';
import type { Choice, Cut, Requirement, Problem } from '../problem/problem.ts';
import { eachFor, lineCost, unitsAtLeast } from '../problem/units.ts';
import { cutPlanOf, type CutPlan } from './cutPlan.ts';
import { MICROGRAMS } from './parcels.ts';

/** Beyond so many purchases looked at, cuttings that are not plain to see, and plans kept, they are not written out. */
const MOST_LOOKS = 20_000;
const MOST_PACKINGS = 60;
/** Such cuttings take tens of milliseconds each: of a whole problem there are so many at the most. */
const MOST_PACKINGS_IN_ALL = 300;
const MOST_PLANS = 150;
/** Continuous lengths are told apart by the sums of pieces that fill them, up to so many. */
const MOST_SUMS = 400;

/** How many cuttings that are not plain to see are left for a problem. */
export interface CuttingBudget {
  packings: number;
}

export function cuttingBudget(): CuttingBudget {
  return { packings: MOST_PACKINGS_IN_ALL };
}

/** Some amount of a choice. */
interface Amount {
  units: number;
  mm: number;
  value: number;
  grams: number;
}

/** A choice with all amounts that can be worth buying, fewest units first. `place`: of its supplier, among those that are looked at. */
interface Offer {
  at: number;
  choice: Choice;
  place: number;
  amounts: readonly Amount[];
  mostMm: number;
}

/** A purchase out of which all pieces come: units by offer; value and, where it counts, weight by supplier's place. */
interface Purchase {
  units: readonly number[];
  values: readonly number[];
  grams: readonly number[];
  cuts: readonly Cut[];
}

/**
 * All purchases out of some choices for a requirement that is cut that are worth looking at: all pieces come out of each, and no
 * other costs as little at every supplier and weighs as little where weight counts (goods are made up to a threshold by any
 * money). Depth first over amounts of each choice. Undefined where these are too many to be written out, time is out, or the
 * cutting cannot tell. Throws Cancelled.
 */
export async function cutPlansOf(
  problem: Problem,
  index: number,
  kept: readonly number[],
  budget: CuttingBudget,
  control: Control,
): Promise<CutPlan[] | undefined> {
  const walk = Walk.of(problem, index, kept, budget, control);
  if (!walk || !(await walk.all())) return undefined;
  return walk.found.map(({ units, cuts }) =>
    cutPlanOf(
      problem,
      walk.offers.flatMap(({ at }, place) =>
        units[place]! > 0 ? [{ choice: at, units: units[place]! }] : [],
      ),
      cuts,
    ),
  );
}

class Walk {
  readonly offers: readonly Offer[];
  readonly #requirement: Requirement;
  readonly #index: number;
  readonly #control: Control;
  readonly #budget: CuttingBudget;
  /** By supplier's place: whether weight counts there. */
  readonly #weighs: readonly boolean[];
  /** By order: as much as all pieces until then are long. */
  readonly #needs: readonly { wave: number; mm: number }[];
  /** By offer: the least that a millimetre costs of it and those after it; Infinity but where these are all of one supplier. */
  readonly #leastPerMm: readonly number[];
  found: Purchase[] = [];
  /** Offers by their place of which there are so many units together. */
  readonly #stock: readonly { places: readonly number[]; most: number }[];
  readonly #tooLittle: (readonly number[])[] = [];
  #looks = 0;
  #packings = 0;

  private constructor(
    problem: Problem,
    index: number,
    offers: readonly Offer[],
    weighs: readonly boolean[],
    budget: CuttingBudget,
    control: Control,
  ) {
    this.#budget = budget;
    this.#requirement = problem.requirements[index]!;
    this.#index = index;
    this.offers = offers;
    this.#weighs = weighs;
    this.#control = control;
    this.#stock = problem.sharedStock.map(({ choices, mostUnits }) => ({
      places: [...offers.keys()].filter((place) => choices.includes(offers[place]!.at)),
      most: mostUnits,
    }));
    const waves = [...new Set(this.#requirement.pieces.map(waveOf))].sort((a, b) => a - b);
    this.#needs = waves.map((wave) => ({
      wave,
      mm: this.#requirement.pieces.reduce(
        (sum, piece) => (waveOf(piece) <= wave ? sum + piece.mm * piece.count : sum),
        0,
      ),
    }));
    const last = offers.at(-1)?.place;
    this.#leastPerMm = offers.map((_, at) => {
      const rest = offers.slice(at);
      if (rest.some(({ place }) => place !== last)) return 0;
      return Math.min(...rest.flatMap(({ amounts }) => amounts.map(({ mm, value }) => value / mm)));
    });
  }

  static of(
    problem: Problem,
    index: number,
    kept: readonly number[],
    budget: CuttingBudget,
    control: Control,
  ): Walk | undefined {
    const requirement = problem.requirements[index]!;
    const suppliers = [...new Set(kept.map((at) => problem.choices[at]!.supplier))];
    // The shelf first: all of it costs nothing.
    suppliers.sort((a, b) => Number(isOwn(problem, b)) - Number(isOwn(problem, a)) || a - b);
    const weighs = suppliers.map((supplier) =>
      problem.suppliers[supplier]!.bands.some(({ belowMicrograms }) => belowMicrograms !== undefined),
    );
    const offers: Offer[] = [];
    for (const [place, supplier] of suppliers.entries())
      for (const at of kept) {
        const choice = problem.choices[at]!;
        if (choice.supplier !== supplier || eachFor(choice, index) === 0) continue;
        const isScarce = problem.sharedStock.some(({ choices }) => choices.includes(at));
        const amounts = amountsOf(requirement, choice, eachFor(choice, index), weighs[place]! || isScarce);
        if (!amounts) return undefined;
        if (amounts.length === 0) continue;
        offers.push({ at, choice, place, amounts, mostMm: amounts.at(-1)!.mm });
      }
    return new Walk(problem, index, offers, weighs, budget, control);
  }

  /** Whether all could be looked at. */
  all(): Promise<boolean> {
    const none = this.#weighs.map(() => 0);
    return this.#from(0, { units: this.offers.map(() => 0), values: none, grams: none, cuts: [] }, true);
  }

  async #from(at: number, bought: Purchase, isNew: boolean): Promise<boolean> {
    if (++this.#looks > MOST_LOOKS || this.#control.remainingMs() <= 0) return false;
    if (this.found.some((other) => this.#isNoDearer(other, bought))) return true;
    if (isNew) {
      const cuts = await this.#cut(bought);
      if (cuts === 'unknown') return false;
      if (cuts) {
        this.found = [...this.found.filter((other) => !this.#isNoDearer(bought, other)), { ...bought, cuts }];
        return this.found.length <= MOST_PLANS;
      }
    }
    const offer = this.offers[at];
    if (!offer || !this.#canDo(at, bought)) return true;
    if (!(await this.#from(at + 1, bought, false))) return false;
    if (offer.choice.form === 'metre' && this.#hasContinuous(bought, offer.choice.wave)) return true;
    for (const { units, value, grams } of offer.amounts) {
      if (!this.#isThere(bought.units.with(at, units))) break;
      const next = {
        units: bought.units.with(at, units),
        values: bought.values.with(offer.place, bought.values[offer.place]! + value),
        grams: bought.grams.with(offer.place, bought.grams[offer.place]! + grams),
        cuts: [],
      };
      if (!(await this.#from(at + 1, next, true))) return false;
    }
    return true;
  }

  /** At most one continuous length an order, where that can do. */
  #hasContinuous({ units }: Purchase, wave: number): boolean {
    return (
      this.#requirement.several !== true &&
      this.offers.some(({ choice }, at) => choice.form === 'metre' && choice.wave === wave && units[at]! > 0)
    );
  }

  #isThere(units: readonly number[]): boolean {
    return this.#stock.every(
      ({ places, most }) => places.reduce((sum, place) => sum + units[place]!, 0) <= most,
    );
  }

  #isNoDearer(one: Purchase, other: Purchase): boolean {
    return this.#weighs.every(
      (weighs, place) =>
        one.values[place]! <= other.values[place]! + SUM_OF_PRICES &&
        (!weighs || one.grams[place]! <= other.grams[place]! + SUM_OF_PRICES),
    );
  }

  /** Whether the offers from `at` on can bring what is missing in length, and for less than is known. */
  #canDo(at: number, bought: Purchase): boolean {
    let missing = 0;
    for (const { wave, mm } of this.#needs) {
      let most = 0;
      let now = 0;
      this.offers.forEach(({ choice, mostMm }, place) => {
        if (choice.wave > wave) return;
        const own = bought.units[place]! * eachFor(choice, this.#index);
        now += own;
        most += place >= at ? mostMm : own;
      });
      if (most < mm) return false;
      missing = Math.max(missing, mm - now);
    }
    const last = this.#weighs.length - 1;
    const values = bought.values.with(last, bought.values[last]! + missing * this.#leastPerMm[at]!);
    return !this.found.some((other) => this.#isNoDearer(other, { ...bought, values }));
  }

  /** How all pieces come out of what is bought; undefined where they do not. */
  async #cut({ units }: Purchase): Promise<readonly Cut[] | 'unknown' | undefined> {
    const enough = this.#needs.every(
      ({ wave, mm }) =>
        this.offers.reduce(
          (sum, { choice }, at) =>
            choice.wave <= wave ? sum + units[at]! * eachFor(choice, this.#index) : sum,
          0,
        ) >= mm,
    );
    if (!enough || this.#tooLittle.some((known) => units.every((many, at) => many <= known[at]!)))
      return undefined;
    const owners = this.offers.flatMap(({ at, choice }, place): { at: number; bin: Bin }[] => {
      const each = eachFor(choice, this.#index);
      const many = units[place]!;
      if (many === 0) return [];
      const bin =
        choice.form === 'metre' ? { usableMm: each * many, count: 1 } : { usableMm: each, count: many };
      return [{ at, bin: { ...bin, wave: choice.wave } }];
    });
    const bins = owners.map(({ bin }) => bin);
    const cutsOf = ({ lengths }: Extract<Packing, { status: 'packed' }>) =>
      lengths.map(({ bin, lengths: times, pieces }): Cut => ({
        choice: owners[bin]!.at,
        lengths: times,
        pieces,
      }));
    const plain = packPlainly(bins, this.#requirement.pieces);
    if (plain) return cutsOf(plain);
    if (++this.#packings > MOST_PACKINGS || --this.#budget.packings < 0) return 'unknown';
    const packing = await packInto(bins, this.#requirement.pieces, this.#control);
    if (packing.status === 'unknown') return 'unknown';
    if (packing.status === 'packed') return cutsOf(packing);
    this.#tooLittle.push(units);
    return undefined;
  }
}

const waveOf = ({ wave = 1 }: { wave?: number }) => wave;

function isOwn({ suppliers }: Problem, supplier: number): boolean {
  return suppliers[supplier]?.own === true;
}

/**
 * Amounts of a choice that can be worth buying for its pieces: so many lengths as there are pieces, at the most; of a
 * continuous length what some of the pieces come to; and where breaks begin. One that costs no less than a larger one is left
 * out, unless all are asked for. Undefined where they are too many.
 */
function amountsOf(
  requirement: Requirement,
  choice: Choice,
  each: number,
  all: boolean,
): Amount[] | undefined {
  const pieces = requirement.pieces.filter((piece) => waveOf(piece) >= choice.wave);
  const wanted = choice.form === 'metre' ? unitsByTheMetre(pieces, each) : lengthsFor(pieces, each);
  if (!wanted) return undefined;
  const units = new Set<number>();
  for (const many of wanted) {
    const sold = unitsAtLeast(choice, many) ?? (choice.form === 'metre' ? undefined : choice.mostUnits);
    if (sold !== undefined && sold > 0) units.add(sold);
  }
  // A break may make more cost less.
  const fewest = Math.min(...units);
  for (const { fromUnits } of choice.tiers) {
    const sold = unitsAtLeast(choice, fromUnits);
    if (sold !== undefined && sold > fewest) units.add(sold);
  }
  const amounts = [...units]
    .sort((a, b) => a - b)
    .map((many): Amount => ({
      units: many,
      mm: many * each,
      value: exactToSolver(lineCost(choice, many)),
      grams: (choice.microgramsPerUnit * many) / MICROGRAMS,
    }));
  return all
    ? amounts
    : amounts.filter(({ value }, at) => amounts.every((other, place) => place <= at || value < other.value));
}

function lengthsFor(pieces: Requirement['pieces'], each: number): number[] {
  const most = pieces.reduce((sum, { mm, count }) => (mm <= each ? sum + count : sum), 0);
  return Array.from({ length: most }, (_, many) => many + 1);
}

/** Units of a continuous length by the sums of pieces that it can be cut into. */
function unitsByTheMetre(pieces: Requirement['pieces'], each: number): Set<number> | undefined {
  let sums = new Set([0]);
  for (const { mm, count } of pieces)
    for (let piece = 0; piece < count; piece++) {
      sums = new Set([...sums, ...Array.from(sums, (sum) => sum + mm)]);
      if (sums.size > MOST_SUMS * each) return undefined;
    }
  sums.delete(0);
  const units = new Set(Array.from(sums, (sum) => Math.ceil(sum / each)));
  return units.size > MOST_SUMS ? undefined : units;
}
