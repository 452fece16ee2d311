import { pointer, type Finding } from '../../model/finding.ts';
import type { Job } from '../../model/job.ts';
import { offerParts } from '../../model/offer.ts';
import type { Requirement } from '../../model/result.ts';
import { plusDays } from '../../units/day.ts';
import { customsUnknown, weightsMissing } from './unknownCharges.ts';
import type { AskedRequirement, AskedRequirements } from '../asked/requirements.ts';
import type { Market } from '../../job/market.ts';
import type { OffersFor } from '../offered/usableOffers.ts';

/** What is known where all of it has been compiled. */
export interface Known extends AskedRequirements {
  job: Job;
  offers: OffersFor;
  market: Market;
  /** Requirements that something on the shelf serves, by their place. */
  onShelf: ReadonlySet<number>;
  /** Whether anything that is needed can be had of a supplier. */
  sells: (supplier: string) => boolean;
}

/** What is to be known about the terms beside the single offers: what is missing, and what cannot be had. */
export function remarksOf(known: Known): Finding[] {
  return [
    ...suppliersShut(known),
    ...insistedInVain(known),
    ...pinnedInVain(known),
    ...nobodyInTime(known),
    ...familiesNotOnSale(known),
    ...familiesNotChosen(known),
    ...notStandingIn(known),
    ...nuisanceWithoutRate(known),
    ...customsUnknown(known),
    ...weightsMissing(known),
  ];
}

function suppliersShut({ job, requirements }: Known): Finding[] {
  const shut = new Set(job.request.shutOut ?? []);
  if (requirements.length === 0 || shut.size === 0 || job.suppliers.some(({ code }) => !shut.has(code)))
    return [];
  return [
    {
      code: 'all-suppliers-shut-out',
      severity: 'warning',
      at: pointer(['request', 'shutOut']),
      where: 'the request, shutOut',
      found: `${[...shut].join(', ')}: all suppliers of what is needed`,
      todo: 'Nothing can be bought. Remove one of them from shutOut, or enter offers of another supplier.',
    },
  ];
}

function insistedInVain({ job, sells }: Known): Finding[] {
  return (job.request.insistOn ?? []).flatMap((supplier, index): Finding[] =>
    sells(supplier)
      ? []
      : [
          {
            code: 'insisted-supplier-sells-nothing',
            severity: 'warning',
            at: pointer(['request', 'insistOn', index]),
            where: `supplier ${supplier}`,
            found: 'none of its offers can be used for what is needed',
            todo: 'The quote is made without it. Enter offers of it that can be used, or remove it from insistOn.',
          },
        ],
  );
}

/** Parts pinned to an offer that does not sell them: nothing else serves them, so that they go unsourced. */
function pinnedInVain({ job }: Known): Finding[] {
  return (job.request.pinned ?? []).flatMap(({ part, offer }, index): Finding[] => {
    const pinned = job.offers.find(({ code }) => code === offer);
    if (pinned && offerParts(pinned).some((sold) => sold.part === part)) return [];
    return [
      {
        code: 'pinned-offer-does-not-sell',
        severity: 'warning',
        at: pointer(['request', 'pinned', index, 'offer']),
        where: `part ${part}`,
        found: `pinned to offer ${offer}, which does not sell it`,
        todo: `It is not bought. Pin it to an offer of ${part}, or remove the pin.`,
      },
    ];
  });
}

/** Requirements that somebody sells, but nobody by the day. */
function nobodyInTime({ job, market, requirements, offers }: Known): Finding[] {
  const { neededBy } = job.request;
  if (neededBy === undefined) return [];
  const inTime = new Set(
    offers.usable.flatMap(({ late, serves }) =>
      late ? [] : serves.map(({ requirement }) => idOf(requirements[requirement])),
    ),
  );
  return distinct(requirements).flatMap((requirement): Finding[] => {
    if (inTime.has(requirement.id)) return [];
    const parts = new Set(
      requirements.flatMap((one) => (one.rolledUp === requirement ? [...one.parts.keys()] : [])),
    );
    const days = market.listings.flatMap(({ offer, leadDays }) =>
      leadDays !== undefined && offerParts(offer).some(({ part }) => parts.has(part)) ? [leadDays] : [],
    );
    if (days.length === 0) return [];
    const earliest = days.reduce((least, day) => Math.min(least, day));
    const day = plusDays(job.asOf, earliest);
    if (day <= neededBy) return [];
    return [
      {
        code: 'date-out-of-reach',
        severity: 'warning',
        at: pointer(['request', 'neededBy']),
        where: requirement.label,
        found: `no offer arrives by ${neededBy}`,
        limit: `earliest day: ${day}`,
        todo: `Set neededBy to ${day} or later, or enter an offer that arrives earlier.`,
      },
    ];
  });
}

/** Families that could stand in, or are needed, of which nobody sells a member. */
function familiesNotOnSale({ requirements, options, offers, onShelf, job }: Known): Finding[] {
  const sold = new Set(offers.usable.flatMap(({ serves }) => serves.map(({ requirement }) => requirement)));
  const families = new Map(job.parts.map(({ code, family }) => [code, family]));
  return requirements.flatMap((requirement, index): Finding[] => {
    const [option] = requirement.when ?? [];
    const chosen = option === undefined ? undefined : options[option];
    if (!chosen || sold.has(index) || onShelf.has(index) || requirement.follows) return [];
    const parts = [...requirement.parts.keys()].filter((part) => families.get(part) === chosen.family);
    const [first = ''] = parts;
    return [
      {
        code: 'family-member-not-on-sale',
        severity: 'note',
        at: pointer(['parts', job.parts.findIndex(({ code }) => code === first)]),
        where: `family ${chosen.family}, for ${requirement.rolledUp.label}`,
        found: `no offer of ${parts.join(', ')} can be used`,
        todo: `${chosen.family === chosen.of ? 'The family cannot be bought complete' : `The family cannot stand in for ${chosen.of}`}. Enter an offer for ${parts.join(' or ')}, or fix the faults of the offers that exist.`,
      },
    ];
  });
}

/** Families that are stated to stand in for a needed one, and yet are none to choose from. */
function familiesNotChosen({ job, requirements, options }: Known): Finding[] {
  const families = new Map(job.parts.map(({ code, family }) => [code, family]));
  const needed = new Set(
    requirements.flatMap(({ rolledUp }) =>
      rolledUp.kind === 'wire' ? [] : (families.get(rolledUp.part) ?? []),
    ),
  );
  return job.parts.flatMap(({ family, standsInFor = [] }, index): Finding[] =>
    standsInFor.flatMap((stated, at): Finding[] => {
      if (!('family' in stated) || family === undefined || !needed.has(stated.family)) return [];
      if (options.some((option) => option.of === stated.family && option.family === family)) return [];
      return [
        {
          code: 'family-not-chosen-from',
          severity: 'note',
          at: pointer(['parts', index, 'standsInFor', at]),
          where: `family ${family}, for ${stated.family}`,
          found:
            'stated to stand in, but not for the complete family: a part that is needed has no stand-in, or must stay',
          todo: `State for each part of ${stated.family} which part of ${family} stands in for it, and confirm it. If a part of ${stated.family} is reused, pinned, or comes from stock or the owner, its family must stay.`,
        },
      ];
    }),
  );
}

function notStandingIn({ job, alsoNeeded }: Known): Finding[] {
  return alsoNeeded.map(({ part, requirement }) => ({
    code: 'stand-in-also-needed',
    severity: 'note',
    at: pointer(['parts', job.parts.findIndex(({ code }) => code === part)]),
    where: requirement.label,
    found: `${part} can stand in for it, but is also needed itself`,
    todo: 'Material that is cut for one need is not used for another need. To use it for both, name it in the loom.',
  }));
}

function nuisanceWithoutRate({ job, market: { exchange } }: Known): Finding[] {
  const { parcelNuisance } = job.request;
  if (!parcelNuisance || exchange.toClub(parcelNuisance.currency) !== undefined) return [];
  return [
    {
      code: 'currency-without-rate',
      severity: 'warning',
      at: pointer(['request', 'parcelNuisance', 'currency']),
      where: 'the request, parcelNuisance',
      found: `${parcelNuisance.currency}, for which there is no rate on ${job.asOf}`,
      limit: job.club.currency,
      todo: `It is not counted. Write it in ${job.club.currency}, or enter a rate.`,
    },
  ];
}

const idOf = (requirement: AskedRequirement | undefined) => requirement?.rolledUp.id ?? '';

function distinct(requirements: readonly AskedRequirement[]): Requirement[] {
  return [...new Set(requirements.map(({ rolledUp }) => rolledUp))];
}
