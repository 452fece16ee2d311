import type { Job } from '../../../worker/engine/model/job.ts';
import { equalTo, familyOf, requirementsOf, wavesOf, type PartRequirement } from './requirements.ts';
import { isOnSale, serves } from './onSale.ts';
import { usableMm } from './usable.ts';
import type { Rules } from './rules.ts';
import { ownsTool, shelfOf, type Shelf } from './shelf.ts';
import { standInsFor } from './standIns.ts';

/** One tool of those that work a family, by an order. */
interface ToolRequirement {
  kind: 'tool';
  family: string;
  wave: number;
}

/** A requirement with what may serve it. */
export interface Requirement {
  rolledUp: PartRequirement | ToolRequirement;
  /** Offers of these parts serve it. */
  accepts: ReadonlySet<string>;
  /** Where the part is pinned, this offer alone. */
  onlyOffer: string | undefined;
  /** What is on the shelf for it. */
  shelf: Shelf;
}

/** The requirements under one choice of family for family. */
export type Scenario = Requirement[];

/** Every choice of a family for each that has an alternative: what is to be met then. */
export function scenariosOf(job: Job, rules: Rules): Scenario[] {
  const requirements = requirementsOf(job, rules);
  const families = [...new Set(requirements.flatMap(({ family }) => (family === undefined ? [] : [family])))];
  const choices = families.reduce<Map<string, string>[]>(
    (before, family) =>
      [family, ...alternativesOf(job, family, requirements, rules)].flatMap((chosen) =>
        before.map((choice) => new Map([...choice, [family, chosen]])),
      ),
    [new Map<string, string>()],
  );
  return choices.map((choice) => [
    ...requirements.map((requirement) =>
      inSeveral(
        job,
        requirementOf(job, requirement, choice.get(requirement.family ?? '') ?? requirement.family, rules),
        rules,
      ),
    ),
    ...toolRequirements(job, requirements, choice, rules),
  ]);
}

const pinOf = (job: Job, part: string, rules: Rules) =>
  rules.pinned ? job.request.pinned?.find((pin) => pin.part === part)?.offer : undefined;

/** Families of which something stands in for each requirement of a family, none of which is pinned or left out. */
function alternativesOf(
  job: Job,
  family: string,
  requirements: readonly PartRequirement[],
  rules: Rules,
): string[] {
  if (!rules.families) return [];
  const of = requirements.filter((requirement) => requirement.family === family);
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

function requirementOf(
  job: Job,
  requirement: PartRequirement,
  chosen: string | undefined,
  rules: Rules,
): Requirement {
  const onlyOffer = pinOf(job, requirement.part, rules);
  if (onlyOffer !== undefined)
    return { rolledUp: requirement, accepts: new Set([requirement.part]), onlyOffer, shelf: NO_SHELF };
  const parts = partsFor(job, requirement, chosen, rules);
  return { rolledUp: requirement, accepts: new Set(parts), onlyOffer, shelf: shelfOf(job, parts, rules) };
}

/** Several lengths by the metre where by some order the longest ones, one an order, with all fixed lengths that there are, are too short, and all are not. */
function inSeveral(job: Job, requirement: Requirement, rules: Rules): Requirement {
  const { rolledUp } = requirement;
  if (rolledUp.kind !== 'length' || !rolledUp.oneMetre || !rules.severalMetreLengths) return requirement;
  const orders = Array.from({ length: wavesOf(job, rules) }, (_, at) => at + 1);
  const serving = job.offers.filter((offer) => serves(offer, requirement, rules));
  const sellers = rolledUp.oneSupplier ? [...new Set(serving.map(({ supplier }) => supplier))] : [undefined];
  const onShelf = requirement.shelf.lengths.reduce((sum, mm) => sum + mm, 0);
  const sumsOf = (seller: string | undefined, order: number) => {
    const total = rolledUp.pieces.reduce((sum, { mm, wave }) => (wave <= order ? sum + mm : sum), 0);
    let fixed = onShelf;
    const continuous: number[] = [];
    for (const offer of serving) {
      if (seller !== undefined && offer.supplier !== seller) continue;
      if (!orders.some((wave) => wave <= order && isOnSale(job, offer, wave, rules))) continue;
      if (offer.form === 'length')
        fixed += usableMm(offer, rules) * (rules.stock ? (offer.stockPacks ?? Infinity) : Infinity);
      if (offer.form !== 'metre') continue;
      const stock = rules.stock ? (offer.stockMm ?? Infinity) : Infinity;
      continuous.push(Math.floor(stock / offer.stepMm) * offer.stepMm);
    }
    const sum = (list: readonly number[]) => list.reduce((all, mm) => all + mm, 0);
    const longest = continuous.toSorted((a, b) => b - a).slice(0, order);
    return { isShort: fixed + sum(longest) < total, isEnough: fixed + sum(continuous) >= total };
  };
  const sums = sellers.map((seller) => orders.map((order) => sumsOf(seller, order)));
  const several =
    sums.every((own) => own.some(({ isShort }) => isShort)) &&
    sums.some((own) => own.every(({ isEnough }) => isEnough));
  return several ? { ...requirement, rolledUp: { ...rolledUp, oneMetre: false } } : requirement;
}

/** What may serve a requirement where its family is the one that is chosen, or where another is. */
function partsFor(
  job: Job,
  requirement: PartRequirement,
  chosen: string | undefined,
  rules: Rules,
): string[] {
  const standIns = standInsFor(job, requirement.part, rules);
  if (chosen !== requirement.family) return standIns.filter((code) => familyOf(job, code) === chosen);
  const isPlain = (code: string) => {
    const family = familyOf(job, code);
    const foreign = family !== undefined && requirement.family !== undefined && family !== requirement.family;
    return foreign ? !rules.families : rules.standIns;
  };
  return [requirement.part, ...equalTo(job, requirement.part, rules), ...standIns.filter(isPlain)];
}

/** A tool for each family that is used and has tools in the catalogue, unless one is owned. */
function toolRequirements(
  job: Job,
  requirements: readonly PartRequirement[],
  choice: ReadonlyMap<string, string>,
  rules: Rules,
): Requirement[] {
  if (!rules.tools) return [];
  return [...new Set(choice.values())].flatMap((family): Requirement[] => {
    const tools = job.parts.filter((part) => part.kind === 'tool' && part.worksFamilies?.includes(family));
    if (tools.length === 0 || tools.some(({ code }) => ownsTool(job, code, rules))) return [];
    const users = requirements.filter(
      (requirement) => requirement.family !== undefined && choice.get(requirement.family) === family,
    );
    const wave = Math.min(...users.map(firstWave));
    return [
      {
        rolledUp: { kind: 'tool', family, wave },
        accepts: new Set(tools.map(({ code }) => code)),
        onlyOffer: undefined,
        shelf: NO_SHELF,
      },
    ];
  });
}

function firstWave(requirement: PartRequirement): number {
  if (requirement.kind === 'length') return Math.min(...requirement.pieces.map(({ wave }) => wave));
  return requirement.byWave.findIndex((many) => many > 0) + 1;
}
