import type {
  Certificate,
  ProblemMultipliers,
  SupplierGround,
} from '../../../worker/engine/sourcing/search/certificate.ts';
import type { Band, Problem, SupplierTerms } from '../../../worker/engine/sourcing/problem/problem.ts';
import type { CountedRequirement, Offered } from './counted.ts';
import { fractionOf, inParts } from './fraction.ts';
import { best, leastFor, stepsOf, valueOf, type Step } from './purchases.ts';

/** A bound in parts of a minor unit; undefined: no mix is left. */
export interface Recomputed {
  bound: bigint | undefined;
  /** By requirement: the least that it costs at the multipliers; undefined where it cannot be met. */
  prices: readonly (bigint | undefined)[];
  parts: bigint;
}

/** Exact money to the minor unit, and micrograms to the gram: the problem's own measures. */
const EXACT_PER_MINOR = 10n ** 7n;
const MICROGRAMS_PER_GRAM = 10n ** 6n;

type Bands = readonly number[];

/** What a supplier's parcel in some bands comes to: of all of them the least charge and rate, and the limits of all together. */
interface Terms {
  charge: bigint;
  rate: bigint;
  from: bigint;
  below: bigint | undefined;
  belowMicrograms: number | undefined;
}

/**
 * The Lagrangian bound of a problem of counted needs, from the problem alone, in whole numbers. A mix pays, for goods of V
 * at a supplier in bands k, and for each requirement r that is served there,
 *
 *   charge_k + rate_k · max(V, from_k)
 *     ≥ charge_k + credit_k · limit_k − weight_k · limit_k − Σ_r link_rk          the supplier's share
 *       + (rate_k − credit_k) · V + weight_k · grams + Σ_r link_rk                 shared out to its needs
 *
 * for 0 ≤ credit ≤ rate with limit from_k, for credit < 0 with limit below_k, for weight, link ≥ 0. The least of each requirement
 * over all purchases, and of each supplier over its bands or not sending, sum up to a bound on every mix.
 */
export class Recomputation {
  readonly #problem: Problem;
  readonly #requirements: readonly CountedRequirement[];
  /** Goods of a supplier for a requirement, least for so many pieces: they are the same at all multipliers without weights and stock. */
  readonly #values: readonly (readonly (readonly Step[])[])[];
  readonly #at = new WeakMap<ProblemMultipliers, AtMultipliers>();

  constructor(problem: Problem, requirements: readonly CountedRequirement[]) {
    this.#problem = problem;
    this.#requirements = requirements;
    this.#values = requirements.map(({ needs: stages, offered }) =>
      offered.map((own) => stepsOf(own, stages.at(-1) ?? 0, valueOf)),
    );
  }

  /** Throws RangeError, in words, where multipliers are none that give a bound. */
  bound({ ground, multipliers }: Pick<Certificate, 'ground' | 'multipliers'>): Recomputed {
    const at = this.#at.get(multipliers) ?? new AtMultipliers(this.#problem, multipliers);
    this.#at.set(multipliers, at);
    const prices = this.#requirements.map((counted, requirement) =>
      this.#leastOf(at, counted, requirement, ground),
    );
    const sellers = at.suppliers(ground);
    const isMet = prices.every((price) => price !== undefined);
    const sum = prices.reduce<bigint>((all, price) => all + (price ?? 0n), 0n);
    const bound = isMet && sellers !== undefined ? sum + sellers - at.stock() : undefined;
    return { bound, prices, parts: at.parts };
  }

  /** The least that the need costs at the multipliers that a choice serves, with some of that; undefined where it cannot be. */
  withChoice(choice: number, { ground, multipliers }: Pick<Certificate, 'ground' | 'multipliers'>) {
    const at = this.#at.get(multipliers) ?? new AtMultipliers(this.#problem, multipliers);
    const isOf = ({ offers }: Offered) => offers.some(({ place }) => place === choice);
    const requirement = this.#requirements.findIndex(({ offered }) => offered.some(isOf));
    const counted = this.#requirements[requirement];
    if (!counted) throw new RangeError('a choice that serves nothing');
    const steps = counted.offered.map((own, place) => {
      const asked = {
        requirement,
        need: counted.needs.at(-1) ?? 0,
        values: this.#values[requirement]?.[place] ?? [],
      };
      return at.stepsFor(own, asked, ground, isOf(own) ? choice : undefined);
    });
    return { requirement, least: leastFor(counted, steps, counted.offered.findIndex(isOf)) };
  }

  #leastOf(
    at: AtMultipliers,
    counted: CountedRequirement,
    requirement: number,
    ground: readonly SupplierGround[],
  ) {
    const key = `${requirement}: ${counted.offered.map(({ supplier }) => JSON.stringify(ground[supplier]?.open)).join()}`;
    if (at.known.has(key)) return at.known.get(key);
    const steps = counted.offered.map((own, place) => {
      const values = this.#values[requirement]?.[place] ?? [];
      return at.stepsFor(own, { requirement, need: counted.needs.at(-1) ?? 0, values }, ground);
    });
    const least = leastFor(counted, steps);
    at.known.set(key, least);
    return least;
  }
}

class AtMultipliers {
  /** Parts of a minor unit, in which all amounts are whole. */
  readonly parts: bigint;
  readonly known = new Map<string, bigint | undefined>();
  readonly #problem: Problem;
  /** Multipliers are whole in so many parts. */
  readonly #fine: bigint;
  readonly #parcels = new Map<string, { credit: bigint; weight: bigint }>();
  readonly #links = new Map<string, bigint>();
  /** By supplier and bands: all that needs pay for using them. */
  readonly #paid = new Map<string, bigint>();
  readonly #stock = new Map<number, bigint>();

  constructor(problem: Problem, { parcels, links, stock, shared, asked }: ProblemMultipliers) {
    if (shared.length > 0 || asked.length > 0) throw new RangeError('multipliers of what is not there');
    this.#problem = problem;
    const all = [
      ...parcels.flatMap(({ credit, weight }) => [credit, weight]),
      ...[...links, ...stock].map(({ each }) => each),
    ];
    this.#fine = all.map((value) => fractionOf(value).under).reduce((a, b) => (a > b ? a : b), 1n);
    this.parts = this.#fine * problem.scale * EXACT_PER_MINOR;
    const weights = parcels.map(({ weight }) => weight);
    if (
      [...weights, ...links.map(({ each }) => each), ...stock.map(({ each }) => each)].some(
        (each) => each < 0,
      )
    )
      throw new RangeError('a multiplier is below 0');
    for (const { supplier, bands, credit, weight } of parcels)
      this.#parcels.set(keyOf(supplier, bands), { credit: this.#of(credit), weight: this.#of(weight) });
    for (const { requirement, supplier, bands, each } of links) {
      const key = `${requirement} ${keyOf(supplier, bands)}`;
      if (this.#links.has(key)) throw new RangeError('two multipliers of one link');
      const inFine = this.#of(each);
      this.#links.set(key, inFine);
      const paid = this.#paid.get(keyOf(supplier, bands)) ?? 0n;
      this.#paid.set(keyOf(supplier, bands), paid + inFine);
    }
    for (const { row, each } of stock) this.#stock.set(row, this.#of(each));
  }

  #of(value: number): bigint {
    return inParts(value, this.#fine);
  }

  /** What a supplier has for a requirement, at the least over its open bands. */
  stepsFor(
    own: Offered,
    { requirement, need, values }: { requirement: number; need: number; values: readonly Step[] },
    ground: readonly SupplierGround[],
    must?: number,
  ): Step[] {
    const { supplier, offers } = own;
    const { scale, suppliers } = this.#problem;
    const isScarce = offers.some(({ place }) => this.#scarce(place) !== 0n);
    const dear = scale * EXACT_PER_MINOR;
    const isPlain = !isScarce && must === undefined;
    if (suppliers[supplier]?.own === true)
      return !isPlain
        ? stepsOf(own, need, (_, units, place) => this.#scarce(place) * BigInt(units) * dear, must)
        : values.map(({ pieces }) => ({ pieces, price: 0n }));
    const open = ground[supplier]?.open ?? [];
    return best(
      open.flatMap((bands) => {
        const { slope, weight } = this.#prices(supplier, bands);
        const link = (this.#links.get(`${requirement} ${keyOf(supplier, bands)}`) ?? 0n) * dear;
        if (weight === 0n && isPlain)
          return values.map(({ pieces, price }) => ({ pieces, price: slope * price + link }));
        const perMicrogram = (weight * dear) / MICROGRAMS_PER_GRAM;
        const priced = stepsOf(
          own,
          need,
          (choice, units, place) => {
            const each = perMicrogram * BigInt(choice.microgramsPerUnit) + this.#scarce(place) * dear;
            return slope * valueOf(choice, units) + each * BigInt(units);
          },
          must,
        );
        return priced.map(({ pieces, price }) => ({ pieces, price: price + link }));
      }),
    );
  }

  /** What a unit of an offer is charged for being scarce. */
  #scarce(place: number): bigint {
    let sum = 0n;
    for (const [row, each] of this.#stock)
      if (this.#problem.sharedStock[row]?.choices.includes(place) === true) sum += each;
    return sum;
  }

  /** All that is charged for scarce stock, at the most. */
  stock(): bigint {
    let sum = 0n;
    for (const [row, each] of this.#stock) {
      const most = this.#problem.sharedStock[row]?.mostUnits;
      if (most === undefined) throw new RangeError('a multiplier of stock that is not there');
      sum += each * BigInt(most);
    }
    return sum * this.#problem.scale * EXACT_PER_MINOR;
  }

  /** Goods and weight in a parcel, by the exact unit of value and by the gram. No more is credited than is charged. */
  #prices(supplier: number, bands: Bands) {
    const { credit, weight } = this.#parcels.get(keyOf(supplier, bands)) ?? { credit: 0n, weight: 0n };
    const terms = termsOf(this.#problem.suppliers[supplier], bands);
    const rate = terms.rate * this.#fine;
    const stated = credit * this.#problem.scale;
    const credited = stated > rate ? rate : stated;
    return { terms, credited, slope: rate - credited, weight };
  }

  /** What a parcel in these bands adds. */
  #parcel(supplier: number, bands: Bands): bigint {
    const { scale } = this.#problem;
    const { terms, credited, weight } = this.#prices(supplier, bands);
    const { charge, from, below, belowMicrograms } = terms;
    if (credited < 0n && below === undefined) throw new RangeError('goods are held below no limit');
    if (weight > 0n && belowMicrograms === undefined) throw new RangeError('weight is held below no limit');
    const heaviest = (BigInt(belowMicrograms ?? 0) * scale * EXACT_PER_MINOR * weight) / MICROGRAMS_PER_GRAM;
    const paid = (this.#paid.get(keyOf(supplier, bands)) ?? 0n) * scale * EXACT_PER_MINOR;
    return charge * this.#fine + credited * (credited < 0n ? (below ?? 0n) : from) - heaviest - paid;
  }

  /** The least that suppliers add; undefined where more must send than may, or one that has no band left. */
  suppliers(ground: readonly SupplierGround[]): bigint | undefined {
    const { suppliers, atMostSuppliers = Infinity, insistOn } = this.#problem;
    const codes = new Map<string, { orders: { sends: bigint | undefined; must: boolean }[] }>();
    suppliers.forEach(({ code, own }, supplier) => {
      if (own) return;
      const { open, must } = ground[supplier] ?? { open: [], must: false };
      const sends = open
        .map((bands) => this.#parcel(supplier, bands))
        .reduce<bigint | undefined>(lesser, undefined);
      const known = codes.get(code) ?? { orders: [] };
      known.orders.push({ sends, must });
      codes.set(code, known);
    });
    let sum = 0n;
    let used = 0;
    const free: bigint[] = [];
    for (const [code, { orders }] of codes) {
      const must = orders.some((order) => order.must);
      if (orders.some((order) => order.must && order.sends === undefined)) return undefined;
      const asTheyLike = orders.reduce(
        (all, { sends = 0n, must: is }) => all + (is || sends < 0n ? sends : 0n),
        0n,
      );
      if (!must && !insistOn.includes(code)) {
        if (asTheyLike < 0n) free.push(asTheyLike);
        continue;
      }
      used++;
      // One of its orders at the least is sent.
      const more = orders
        .flatMap(({ sends }) => (sends === undefined ? [] : [sends > 0n ? sends : 0n]))
        .reduce<bigint | undefined>(lesser, undefined);
      if (!must && more === undefined) return undefined;
      sum += asTheyLike + (must ? 0n : (more ?? 0n));
    }
    if (used > atMostSuppliers) return undefined;
    free.sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
    return free
      .slice(0, Math.min(free.length, atMostSuppliers - used))
      .reduce((all, each) => all + each, sum);
  }
}

function termsOf(supplier: SupplierTerms | undefined, bands: Bands): Terms {
  const own = bands.map((at): Band => {
    const band = supplier?.bands[at];
    if (!band) throw new RangeError('a band that is not there');
    return band;
  });
  const [first] = own;
  if (!first) throw new RangeError('a parcel in no band');
  return own.reduce<Terms>(
    (all, { charge, rate, from, below, belowMicrograms }) => ({
      charge: charge < all.charge ? charge : all.charge,
      rate: rate < all.rate ? rate : all.rate,
      from: from < all.from ? from : all.from,
      below:
        all.below === undefined || below === undefined ? undefined : below > all.below ? below : all.below,
      belowMicrograms:
        all.belowMicrograms === undefined || belowMicrograms === undefined
          ? undefined
          : Math.max(belowMicrograms, all.belowMicrograms),
    }),
    first,
  );
}

function lesser(a: bigint | undefined, b: bigint): bigint {
  return a === undefined || b < a ? b : a;
}

function keyOf(supplier: number, bands: Bands): string {
  return `${supplier}: ${bands.join()}`;
}
