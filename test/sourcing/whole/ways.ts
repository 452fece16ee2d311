import type { Amount } from './amounts.ts';
import type { Cover } from './covers.ts';
import { cutFrom, mayStand, type Length } from './cutting.ts';
import { distinct, mixOf, type Mix } from './mix.ts';
import { serves, type Offer } from './onSale.ts';
import type { Rules } from './rules.ts';
import type { Requirement } from './scenarios.ts';
import { usableMm } from './usable.ts';

/** An offer in one of the orders, with the amounts of it that are tried. */
export interface Column {
  offer: Offer;
  wave: number;
  seller: number;
  parcel: number;
  amounts: readonly (Amount & { least: bigint })[];
}

/** Requirements that share offers, with these offers and what the counted ones ask of them. */
export interface Group {
  requirements: readonly Requirement[];
  columns: readonly Column[];
  covers: readonly Cover[];
}

/** What is taken of a column, and the amount below; undefined is none. */
interface Taken {
  column: Column;
  place: number;
  amount: Amount & { least: bigint };
  below: (Amount & { least: bigint }) | undefined;
}

type IsMet = (taken: readonly Taken[]) => boolean;

/** Every way to meet the requirements of a group that may cost at most so much: each column at each of its amounts, or none. */
export function waysToMeet(group: Group, most: bigint | undefined, parcels: number, rules: Rules): Mix[] {
  const { columns, covers } = group;
  const isMet = metBy(group, rules);
  const mayStandWith = mayBecome(group, rules);
  const ways: Mix[] = [];
  const reach = reachOf(group);
  const take = (place: number, taken: readonly Taken[], least: bigint, owed: readonly number[]): void => {
    if (most !== undefined && least > most) return;
    if (owed.some((many, cover) => many > (reach[place]?.[cover] ?? 0))) return;
    const column = columns[place];
    if (!column) {
      if (isMet(taken)) ways.push(mixOf(linesOf(taken, isMet, rules), parcels));
      return;
    }
    take(place + 1, taken, least, owed);
    const stock = stockLeft(column.offer, taken, rules);
    const [first] = column.amounts;
    if (!first || !mayStandWith([...taken, { column, place, amount: first, below: undefined }])) return;
    column.amounts.forEach((amount, rung) => {
      if (amount.count > stock) return;
      take(
        place + 1,
        [...taken, { column, place, amount, below: column.amounts[rung - 1] }],
        least + amount.least,
        owed.map((many, cover) => many - amount.count * (covers[cover]?.each[place] ?? 0)),
      );
    });
  };
  take(
    0,
    [],
    0n,
    covers.map(({ required }) => required),
  );
  return distinct(ways);
}

/** What the columns from each on bring to each cover at the most. */
function reachOf({ columns, covers }: Group): number[][] {
  const reach = [covers.map(() => 0)];
  for (let place = columns.length - 1; place >= 0; place -= 1) {
    const most = columns[place]?.amounts.at(-1)?.count ?? 0;
    reach.unshift(covers.map(({ each }, cover) => (reach[0]?.[cover] ?? 0) + most * (each[place] ?? 0)));
  }
  return reach;
}

/** What earlier orders leave of the stock. */
function stockLeft(offer: Offer, taken: readonly Taken[], rules: Rules): number {
  const stock = offer.form === 'metre' ? offer.stockMm : offer.stockPacks;
  if (stock === undefined || !rules.stock) return Infinity;
  return taken.reduce(
    (left, { column, amount }) => left - (column.offer === offer ? amount.count : 0),
    stock,
  );
}

function linesOf(taken: readonly Taken[], isMet: IsMet, rules: Rules) {
  return taken.map((one) => ({
    parcel: one.column.parcel,
    costs: one.amount.costs,
    weight: one.amount.weight,
    least: one.amount.least,
    loose: !(rules.overbuyForMinimum && rules.overbuying) && isLoose(one, taken, isMet),
  }));
}

/** Whether one step less would still do, and cost less. */
function isLoose(one: Taken, taken: readonly Taken[], isMet: IsMet): boolean {
  const less = one.below ? [{ ...one, amount: one.below }] : [];
  return (
    (one.below?.costs ?? 0) < one.amount.costs && isMet([...taken.filter((other) => other !== one), ...less])
  );
}

function metBy({ requirements, covers }: Group, rules: Rules): IsMet {
  const cuts = requirements.flatMap((requirement) =>
    requirement.rolledUp.kind === 'length' ? [cutBy(requirement, rules)] : [],
  );
  return (taken) =>
    covers.every(
      ({ required, each }) =>
        taken.reduce((sum, { place, amount }) => sum + amount.count * (each[place] ?? 0), 0) >= required,
    ) && cuts.every((isCut) => isCut(taken));
}

function cutBy(requirement: Requirement, rules: Rules): IsMet {
  const known = new Map<string, boolean>();
  return (taken) => {
    const key = taken.map(({ place, amount }) => `${place}:${amount.count}`).join();
    const before = known.get(key);
    if (before !== undefined) return before;
    const { rolledUp, shelf } = requirement;
    const met =
      rolledUp.kind === 'length' &&
      cutFrom(rolledUp, shelf.lengths, lengthsOf(requirement, taken, rules), rules);
    known.set(key, met);
    return met;
  };
}

/** Whether what is taken may still become a way: no two lengths or offers in it that must not stand together. */
function mayBecome({ requirements }: Group, rules: Rules): IsMet {
  return (taken) =>
    requirements.every((requirement) => {
      if (requirement.rolledUp.kind === 'length')
        return mayStand(requirement.rolledUp, lengthsOf(requirement, taken, rules));
      return (
        rules.mixedOffers ||
        taken.filter(({ column }) => serves(column.offer, requirement, rules)).length <= 1
      );
    });
}

function lengthsOf(requirement: Requirement, taken: readonly Taken[], rules: Rules): Length[] {
  return taken.flatMap(({ column: { offer, wave, seller }, amount }): Length[] => {
    if (!serves(offer, requirement, rules)) return [];
    if (offer.form === 'metre') return [{ mm: amount.count, wave, metre: true, seller }];
    if (offer.form !== 'length') return [];
    return Array<Length>(amount.count).fill({ mm: usableMm(offer, rules), wave, metre: false, seller });
  });
}
