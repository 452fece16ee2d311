import type { Vetting } from '../../loom/checks/inPlace.ts';
import type { Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Job } from '../../model/job.ts';
import type { LeftOut, Requirement, Unsourced } from '../../model/result.ts';
import type { SettingValues } from '../../model/settings.ts';
import { lcm } from '../../units/fraction.ts';
import { bandsOf, denominators, scaled } from '../charges/deliveryBands.ts';
import { apartByLength, offerDrafts, shelfDraft } from '../offered/drafts.ts';
import type { Market } from '../../job/market.ts';
import { madeOf } from './madeOf.ts';
import { requirementsOf, type AskedRequirement, type Option } from '../asked/requirements.ts';
import type { Choice, Problem, SupplierTerms } from '../problem/problem.ts';
import { remarksOf } from '../findings/remarks.ts';
import { shelfOf } from '../offered/shelf.ts';
import { unreachable } from '../offered/unreachable.ts';
import { unsourcedLines } from '../findings/unsourced.ts';
import { offersFor } from '../offered/usableOffers.ts';
import { byWave } from '../asked/waves.ts';

/** What is to be bought, and on what terms. */
export interface Order {
  requirements: readonly Requirement[];
  leftOut: readonly LeftOut[];
  /** What the first order, the first two … roll up to, without the last, which is all. */
  earlier: readonly (readonly Requirement[])[];
  market: Market;
  /** Tells what would do in place of what the looms name. */
  vetting: Vetting;
}

export interface Compiled {
  problem: Problem;
  /** By the place of a requirement in the problem: what it is of. */
  sourced: AskedRequirement[];
  /** What the problem's options stand for. */
  options: Option[];
  /** Tools that are needed and that nobody sells. */
  tools: Requirement[];
  unsourced: Unsourced[];
  /** Says why requirements that nothing serves are not bought. */
  whyNot: (requirements: readonly Requirement[]) => Unsourced[];
  findings: Finding[];
}

type Terms = Pick<SettingValues, 'oneColourOneSupplier' | 'standInsAccepted'>;

/** A normalised job's requirements, offers and suppliers as a problem to solve; what no offer meets is unsourced. */
export function compile(job: Job, order: Order, terms: Terms): Compiled {
  const { market } = order;
  const { exchange, waves } = market;
  const { requirements, groups, options, alsoNeeded, unfit } = requirementsOf(
    job,
    order.requirements,
    order.leftOut,
    {
      ...terms,
      vetting: order.vetting,
    },
  );
  const offers = offersFor(job, requirements, market);
  const { shelf, findings: ofShelf } = shelfOf(job, order.leftOut);
  const selling = new Set(offers.usable.map(({ offer }) => offer.supplier));
  const sending = job.suppliers.filter(({ code }) => selling.has(code));
  const bands = sending.map((supplier) =>
    bandsOf(supplier, {
      exchange,
      customs: market.customsOf(supplier),
      nuisance: nuisanceOf(job, exchange.toClub),
    }),
  );
  const scale = bands.flatMap(denominators).reduce(lcm, 1n);
  const suppliers = sending.flatMap(({ code }, index) =>
    Array.from({ length: waves }, (_, wave): SupplierTerms => ({
      code,
      wave: wave + 1,
      own: false,
      bands: scaled(bands[index] ?? [], scale),
    })),
  );
  const supplierAt = new Map(suppliers.map(({ code, wave }, index) => [`${wave} ${code}`, index]));
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const fromOffers = offers.usable.map((usable) =>
    offerDrafts(usable, (code, wave) => supplierAt.get(`${wave} ${code}`) ?? 0, parts, waves),
  );
  const shut = unreachable(job, suppliers, fromOffers.flat());
  const pinned = new Set((job.request.pinned ?? []).map(({ part }) => part));
  const fromShelf = shelf.flatMap((item) => shelfDraft(item, requirements, suppliers.length, pinned) ?? []);
  const all = [...fromOffers.flat(), ...fromShelf].flatMap((draft) => apartByLength(draft, requirements));
  const drafts = all.filter((draft) => {
    const supplier = suppliers[draft.choice.supplier];
    if (!supplier || !shut.has(supplier.code)) return true;
    for (const { requirement } of draft.serves)
      addTo(
        offers.refused,
        requirements[requirement]?.rolledUp.id ?? '',
        `offer ${draft.choice.offer}: the minimum order of its supplier cannot be reached`,
      );
    return false;
  });
  const insisted = new Set(job.request.insistOn ?? []);
  const made = madeOf(requirements, drafts, byWave(order.earlier, job.request.samples ?? 0), {
    waves,
    codeOf: (supplier) => suppliers[supplier]?.code ?? '',
    oneColourOneSupplier: terms.oneColourOneSupplier,
    untold: (requirement) =>
      addTo(
        offers.refused,
        requirement.rolledUp.id,
        'the offers do not have enough of it, in stock or in one length',
      ),
  });
  const sells = (code: string) => made.choices.some(({ supplier }) => suppliers[supplier]?.code === code);
  const problem: Problem = {
    scale,
    requirements: made.requirements,
    covers: made.covers,
    pools: made.pools,
    groups,
    choices: made.choices,
    suppliers: fromShelf.length > 0 ? [...suppliers, shelfTerms(scale)] : suppliers,
    sharedStock: sharedStockOf(made.choices),
    atMostSuppliers: job.request.atMostSuppliers,
    insistOn: [...insisted].filter(sells).sort(),
  };
  const met = new Set(made.sourced.map(({ rolledUp }) => rolledUp.id));
  const unsourced = requirements.flatMap(({ rolledUp }) => (met.has(rolledUp.id) ? [] : [rolledUp]));
  const whyNot = (requirements: readonly Requirement[]) =>
    unsourcedLines(requirements, job, { offers: offers.refused, standIns: unfit });
  return {
    problem,
    sourced: made.sourced,
    options,
    tools: requirements.flatMap(({ rolledUp, follows }) =>
      follows && !met.has(rolledUp.id) ? [rolledUp] : [],
    ),
    unsourced: whyNot([...new Set(unsourced)]),
    whyNot,
    findings: [
      ...offers.findings,
      ...shut.values(),
      ...ofShelf,
      ...unfit,
      ...remarksOf({
        job,
        onShelf: new Set(fromShelf.flatMap(({ serves }) => serves.map(({ requirement }) => requirement))),
        requirements,
        groups,
        options,
        alsoNeeded,
        unfit,
        offers,
        market,
        sells,
      }),
    ],
  };
}

/** What a parcel counts beside its cost; without a rate for it nothing, which is remarked on. */
function nuisanceOf({ request }: Job, toClub: (currency: string) => unknown) {
  const { parcelNuisance } = request;
  return parcelNuisance && toClub(parcelNuisance.currency) !== undefined ? parcelNuisance : undefined;
}

function shelfTerms(scale: bigint): SupplierTerms {
  const band = { from: 0n, below: undefined, fromMicrograms: 0, belowMicrograms: undefined };
  const goods = { kind: 'goods' as const, fixed: 0n, rate: scale };
  return { code: '', wave: 0, own: true, bands: [{ ...band, charge: 0n, rate: scale, charges: [goods] }] };
}

/** Offers and items of the shelf that several orders, or several requirements, may be filled from. */
function sharedStockOf(choices: readonly Choice[]): Problem['sharedStock'] {
  const byOffer = new Map<string, number[]>();
  choices.forEach(({ offer, wave, mostUnits }, index) => {
    if (mostUnits !== undefined) addTo(byOffer, wave === 0 ? `shelf ${offer}` : offer, index);
  });
  return [...byOffer.values()]
    .filter((own) => own.length > 1)
    .map((own) => ({ choices: own, mostUnits: choices[own[0] ?? 0]?.mostUnits ?? 0 }));
}
