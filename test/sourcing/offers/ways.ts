import type { Job } from '../../../worker/engine/model/job.ts';
import { piecesOf, usableMm, type Amount } from './amounts.ts';
import { distinct, mixOf, type Mix } from './mix.ts';
import type { CountNeed, LengthNeed, Need } from './needs.ts';
import { leftOver } from './packing.ts';
import type { Rules } from './rules.ts';

type Offer = Job['offers'][number];

/** An offer with the amounts of it that are tried, and its supplier's place. */
export interface Column {
  offer: Offer;
  seller: number;
  amounts: readonly Amount[];
}

/** What is taken of an offer, and the amount below; undefined is none. */
interface Taken {
  column: Column;
  amount: Amount;
  below: Amount | undefined;
}

type IsMet = (taken: readonly Taken[]) => boolean;

/**
 * Every way to meet one need by offers that serve it alone, for goods of at most so much: each offer at each of its
 * amounts, or not at all. `fromKits`: pieces that kits bring.
 */
export function waysToMeet(
  need: Need,
  columns: readonly Column[],
  fromKits: number,
  most: number,
  sellers: number,
  rules: Rules,
): Mix[] {
  const isMet = need.kind === 'count' ? countMet(need, fromKits) : lengthMet(need, rules);
  const serving = columns.filter(({ offer }) => 'part' in offer && offer.part === need.part);
  const ways: Mix[] = [];
  const take = (index: number, taken: readonly Taken[], spent: number): void => {
    if (spent > most) return;
    const column = serving[index];
    if (!column) {
      if (isMet(taken)) ways.push(mixOf(linesOf(taken, isMet, rules), sellers));
      return;
    }
    take(index + 1, taken, spent);
    column.amounts.forEach((amount, rung) => {
      const below = column.amounts[rung - 1];
      take(index + 1, [...taken, { column, amount, below }], spent + amount.costs);
    });
  };
  take(0, [], 0);
  return distinct(ways);
}

function linesOf(taken: readonly Taken[], isMet: IsMet, rules: Rules) {
  return taken.map((one) => ({
    seller: one.column.seller,
    costs: one.amount.costs,
    weight: one.amount.weight,
    loose: !rules.overbuyForMinimum && isLoose(one, taken, isMet),
  }));
}

/** Whether one step less would still do, and cost less. */
function isLoose(one: Taken, taken: readonly Taken[], isMet: IsMet): boolean {
  const less = one.below ? [{ ...one, amount: one.below }] : [];
  return (
    (one.below?.costs ?? 0) < one.amount.costs && isMet([...taken.filter((other) => other !== one), ...less])
  );
}

function countMet(need: CountNeed, fromKits: number): IsMet {
  return (taken) =>
    taken.reduce(
      (sum, { column, amount }) => sum + amount.count * piecesOf(column.offer, need.part),
      fromKits,
    ) >= need.quantity;
}

function lengthMet(need: LengthNeed, rules: Rules): IsMet {
  const total = need.pieces.reduce((sum, mm) => sum + mm, 0);
  const cut = new Map<string, number>();
  /** What the hanks leave over is cut from the length by the metre. */
  const over = (hanks: readonly number[]) => {
    if (need.joinable) return total - hanks.reduce((sum, mm) => sum + mm, 0);
    const key = hanks.join();
    const known = cut.get(key) ?? leftOver(need.pieces, hanks);
    cut.set(key, known);
    return known;
  };
  return (taken) => {
    const metres = taken.filter(({ column }) => column.offer.form === 'metre');
    if (need.oneMetre && metres.length > 1) return false;
    if (need.oneSupplier && new Set(taken.map(({ column }) => column.seller)).size > 1) return false;
    if (!need.together && metres.length > 0 && metres.length < taken.length) return false;
    const hanks = taken.flatMap(({ column: { offer }, amount }) =>
      offer.form === 'length' ? Array<number>(amount.count).fill(usableMm(offer, rules)) : [],
    );
    const lengths = metres.map(({ amount }) => amount.count);
    if (lengths.length < 2 || need.joinable) return over(hanks) <= lengths.reduce((sum, mm) => sum + mm, 0);
    return over([...hanks, ...lengths]) === 0;
  };
}
