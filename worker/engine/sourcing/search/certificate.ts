import type { Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import type { Ground } from './prices.ts';

/** What a bound closed: no mix there costs less than the limit. */
export type Closing =
  /** All mixes of the ground. */
  | { what: 'node' }
  /** That the supplier sends a parcel in one of these bands. */
  | { what: 'parcel'; supplier: number; bands: readonly number[] }
  /** That the supplier sends nothing. */
  | { what: 'unused'; supplier: number }
  /** Plans of a requirement, by its place, that cost more than this at the multipliers; undefined: none is left out. */
  | { what: 'plans'; most: readonly (number | undefined)[] }
  /** That any of these choices is bought. */
  | { what: 'choices'; choices: readonly number[] };

/** What a supplier may do in a ground: send a parcel in the bands of one of these groups; and whether it must send one. */
export interface SupplierGround {
  open: readonly (readonly number[])[];
  must: boolean;
}

/**
 * Multipliers in the problem's own terms, those that are 0 left out. `credit` counts for a minor unit of the supplier's
 * goods, `weight` for a gram, `links` for using the supplier in these bands for the requirement, `stock` for a unit by row of
 * shared stock, `shared` for a piece to these requirements (none named: for any of the choice at all), `asked` for an option.
 */
export interface ProblemMultipliers {
  parcels: readonly { supplier: number; bands: readonly number[]; credit: number; weight: number }[];
  links: readonly { requirement: number; supplier: number; bands: readonly number[]; each: number }[];
  stock: readonly { row: number; each: number }[];
  shared: readonly { choice: number; requirements: readonly number[]; each: number }[];
  asked: readonly { requirement: number; option: number; each: number }[];
}

/** A claim of the search that can be worked out again without it: by these multipliers no mix of the ground costs less than the bound. */
export interface Certificate {
  closes: Closing;
  /** What a better mix must cost less than, minor units. */
  limit: number;
  /** What the search worked out, minor units; Infinity where no mix is left. */
  bound: number;
  /** By supplier. */
  ground: readonly SupplierGround[];
  /** One object for all certificates by the same multipliers. */
  multipliers: ProblemMultipliers;
}

export type OnCertificate = (certificate: Certificate) => void;

/** Where a bound comes from. */
export interface Proof {
  ground: Ground;
  multipliers: Multipliers;
}

/** Writes certificates of what the search closes. */
export class Certifier {
  readonly #network: Network;
  readonly #tell: OnCertificate | undefined;
  readonly #written = new WeakMap<Multipliers, ProblemMultipliers>();

  constructor(network: Network, tell: OnCertificate | undefined) {
    this.#network = network;
    this.#tell = tell;
  }

  /** What a bound closes; nothing is written where it does not reach the limit, or has no proof. */
  closed(closes: Closing, proof: Proof | undefined, bound: number, limit: number): void {
    if (!this.#tell || !proof || bound < limit) return;
    this.#write(closes, proof, bound, limit);
  }

  /** What the plans that are written out leave out: those of more than the room between bound and limit. */
  plans(proof: Proof, at: Bound, limit: number, isWhole: (requirement: number) => boolean): void {
    if (!this.#tell) return;
    const most: (number | undefined)[] = [];
    this.#network.requirements.forEach((_, requirement) => {
      const least = at.tables[requirement]!.least;
      most[requirement] = isWhole(requirement) ? undefined : least + limit - at.value;
    });
    this.#write({ what: 'plans', most }, proof, at.value, limit);
  }

  /** Choices that add more to the bound than the room up to the limit. */
  choices(proof: Proof, at: Bound, limit: number, more: Float64Array): void {
    if (!this.#tell) return;
    const choices = Array.from(more.keys()).filter((choice) => more[choice]! > limit - at.value);
    this.#write({ what: 'choices', choices }, proof, at.value, limit);
  }

  /** A parcel's being sent, or with none a supplier's sending nothing. */
  closingOf(supplier: number, parcel: number | undefined): Closing {
    return parcel === undefined
      ? { what: 'unused', supplier }
      : { what: 'parcel', supplier, bands: this.#network.parcels.list[parcel]!.bands };
  }

  #write(closes: Closing, { ground, multipliers }: Proof, bound: number, limit: number): void {
    const written = this.#written.get(multipliers) ?? inProblemTerms(this.#network, multipliers);
    this.#written.set(multipliers, written);
    this.#tell?.({ closes, limit, bound, ground: groundOf(this.#network, ground), multipliers: written });
  }
}

function groundOf({ parcels }: Network, { open, must }: Ground): SupplierGround[] {
  return parcels.of.map((own, supplier) => ({
    open: own.flatMap((k) => (open[k] === 1 ? [parcels.list[k]!.bands] : [])),
    must: must[supplier] === 1,
  }));
}

function inProblemTerms(network: Network, multipliers: Multipliers): ProblemMultipliers {
  const { parcels, links, requirements, shared } = network;
  const isSaid = ({ each }: { each: number }) => each !== 0;
  const ofAmounts = (at: number) =>
    links.reduce((sum, link, place) => (link.shared === at ? sum + multipliers.link[place]![0]! : sum), 0);
  return {
    parcels: parcels.list.flatMap(({ supplier, bands }, k) => {
      const [credit, weight] = [multipliers.credit[k]!, multipliers.weight[k]!];
      return credit !== 0 || weight !== 0 ? [{ supplier, bands, credit, weight }] : [];
    }),
    links: links.flatMap(({ requirement, supplier, shared: of }, at) => {
      if (of !== undefined) return [];
      return parcels.of[supplier]!.map((k, place) => ({
        requirement,
        supplier,
        bands: parcels.list[k]!.bands,
        each: multipliers.link[at]![place]!,
      })).filter(isSaid);
    }),
    stock: Array.from(multipliers.stock, (each, row) => ({ row, each })).filter(isSaid),
    shared: shared.flatMap(({ choice, capacities }, at) =>
      [
        { choice, requirements: [], each: ofAmounts(at) },
        ...capacities.map(({ requirements }, row) => ({
          choice,
          requirements,
          each: multipliers.capacity[at]![row]!,
        })),
      ].filter(isSaid),
    ),
    asked: requirements.flatMap(({ when = [] }, requirement) =>
      Array.from(multipliers.asked[requirement]!, (each, place) => ({
        requirement,
        option: when[place]!,
        each,
      })).filter(isSaid),
    ),
  };
}
