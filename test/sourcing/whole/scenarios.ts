import type { Job } from '../../../worker/engine/model/job.ts';
import { equalTo, familyOf, needsOf, wavesOf, type PartNeed } from './needs.ts';
import { isOnSale, serves } from './onSale.ts';
import { usableMm } from './usable.ts';
import type { Rules } from './rules.ts';
import { ownsTool, shelfOf, type Shelf } from './shelf.ts';
import { standInsFor } from './standIns.ts';

/** One tool of those that work a family, by an order. */
interface ToolNeed {
  kind: 'tool';
  family: string;
  wave: number;
}

/** A need with what may serve it. */
export interface Demand {
  need: PartNeed | ToolNeed;
  /** Offers of these parts serve it. */
  accepts: ReadonlySet<string>;
  /** Where the part is pinned, this offer alone. */
  onlyOffer: string | undefined;
  /** What is on the shelf for it. */
  shelf: Shelf;
}

/** The demands under one choice of family for family. */
export type Scenario = Demand[];

/** Every choice of a family for each that has an alternative: what is to be met then. */
export function scenariosOf(job: Job, rules: Rules): Scenario[] {
  const needs = needsOf(job, rules);
  const families = [...new Set(needs.flatMap(({ family }) => (family === undefined ? [] : [family])))];
  const choices = families.reduce<Map<string, string>[]>(
    (before, family) =>
      [family, ...alternativesOf(job, family, needs, rules)].flatMap((chosen) =>
        before.map((choice) => new Map([...choice, [family, chosen]])),
      ),
    [new Map<string, string>()],
  );
  return choices.map((choice) => [
    ...needs.map((need) =>
      inSeveral(job, demandOf(job, need, choice.get(need.family ?? '') ?? need.family, rules), rules),
    ),
    ...toolDemands(job, needs, choice, rules),
  ]);
}

const pinOf = (job: Job, part: string, rules: Rules) =>
  rules.pinned ? job.request.pinned?.find((pin) => pin.part === part)?.offer : undefined;

/** Families of which something stands in for each need of a family, none of which is pinned or left out. */
function alternativesOf(job: Job, family: string, needs: readonly PartNeed[], rules: Rules): string[] {
  if (!rules.families) return [];
  const of = needs.filter((need) => need.family === family);
  const taken = job.looms
    .flatMap(({ parts }) => parts)
    .some(({ part, supply }) => supply !== 'buy' && familyOf(job, part) === family);
  if (taken || of.some(({ part }) => pinOf(job, part, rules) !== undefined)) return [];
  const others = new Set(job.parts.flatMap((part) => (part.family === undefined ? [] : [part.family])));
  others.delete(family);
  return [...others].filter((other) =>
    of.every(({ part }) => standInsFor(job, part, rules).some((code) => familyOf(job, code) === other)),
  );
}

const NO_SHELF: Shelf = { pieces: new Map(), lengths: [] };

function demandOf(job: Job, need: PartNeed, chosen: string | undefined, rules: Rules): Demand {
  const onlyOffer = pinOf(job, need.part, rules);
  if (onlyOffer !== undefined) return { need, accepts: new Set([need.part]), onlyOffer, shelf: NO_SHELF };
  const parts = partsFor(job, need, chosen, rules);
  return { need, accepts: new Set(parts), onlyOffer, shelf: shelfOf(job, parts, rules) };
}

/** Several lengths by the metre where the longest, with all fixed lengths that there are, is too short, and all are not. */
function inSeveral(job: Job, demand: Demand, rules: Rules): Demand {
  const { need } = demand;
  if (need.kind !== 'length' || !need.oneMetre || !rules.severalMetreLengths || wavesOf(job, rules) > 1)
    return demand;
  const total = need.pieces.reduce((sum, { mm }) => sum + mm, 0);
  const offers = job.offers.filter((offer) => serves(offer, demand, rules) && isOnSale(job, offer, 1, rules));
  const sellers = need.oneSupplier ? [...new Set(offers.map(({ supplier }) => supplier))] : [undefined];
  const onShelf = demand.shelf.lengths.reduce((sum, mm) => sum + mm, 0);
  const sums = sellers.map((seller) => {
    let [fixed, longest, all] = [onShelf, 0, onShelf];
    for (const offer of offers) {
      if (seller !== undefined && offer.supplier !== seller) continue;
      if (offer.form === 'length') {
        const mm = usableMm(offer, rules) * (rules.stock ? (offer.stockPacks ?? Infinity) : Infinity);
        fixed += mm;
        all += mm;
      }
      if (offer.form !== 'metre') continue;
      const stock = rules.stock ? (offer.stockMm ?? Infinity) : Infinity;
      const mm = Math.floor(stock / offer.stepMm) * offer.stepMm;
      longest = Math.max(longest, mm);
      all += mm;
    }
    return { withOne: fixed + longest, all };
  });
  const several = sums.every(({ withOne }) => withOne < total) && sums.some(({ all }) => all >= total);
  return several ? { ...demand, need: { ...need, oneMetre: false } } : demand;
}

/** What may serve a need where its family is the one that is chosen, or where another is. */
function partsFor(job: Job, need: PartNeed, chosen: string | undefined, rules: Rules): string[] {
  const standIns = standInsFor(job, need.part, rules);
  if (chosen !== need.family) return standIns.filter((code) => familyOf(job, code) === chosen);
  const isPlain = (code: string) => {
    const family = familyOf(job, code);
    const foreign = family !== undefined && need.family !== undefined && family !== need.family;
    return foreign ? !rules.families : rules.standIns;
  };
  return [need.part, ...equalTo(job, need.part, rules), ...standIns.filter(isPlain)];
}

/** A tool for each family that is used and has tools in the catalogue, unless one is owned. */
function toolDemands(
  job: Job,
  needs: readonly PartNeed[],
  choice: ReadonlyMap<string, string>,
  rules: Rules,
): Demand[] {
  if (!rules.tools) return [];
  return [...new Set(choice.values())].flatMap((family): Demand[] => {
    const tools = job.parts.filter((part) => part.kind === 'tool' && part.worksFamilies?.includes(family));
    if (tools.length === 0 || tools.some(({ code }) => ownsTool(job, code, rules))) return [];
    const users = needs.filter((need) => need.family !== undefined && choice.get(need.family) === family);
    const wave = Math.min(...users.map(firstWave));
    return [
      {
        need: { kind: 'tool', family, wave },
        accepts: new Set(tools.map(({ code }) => code)),
        onlyOffer: undefined,
        shelf: NO_SHELF,
      },
    ];
  });
}

function firstWave(need: PartNeed): number {
  if (need.kind === 'length') return Math.min(...need.pieces.map(({ wave }) => wave));
  return need.byWave.findIndex((many) => many > 0) + 1;
}
