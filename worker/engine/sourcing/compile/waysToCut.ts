import { firstFit, totalMm } from '../../cutting/firstFit.ts';
import type { Pieces } from '../../cutting/patterns.ts';
import { unitsToCover } from '../../units/decimal.ts';
import type { Choice, Cut, CutWay, Requirement } from '../problem/problem.ts';
import { eachFor, unitsAtLeast } from '../problem/units.ts';

/**
 * Ways to cut all pieces of a requirement, each bought with the first order and off the shelf: from one offer; all but the last length of one, and what is left from another;
 * from offer after offer until nothing is left. Each way buys from one supplier where the requirement must, uses at most one
 * continuous length where that can do, and keeps to stock. There may be others.
 */
export function waysToCut(requirement: Requirement, index: number, choices: readonly Choice[]): CutWay[] {
  const able = requirement.choices.filter((choice) => (choices[choice]?.wave ?? 2) <= 1);
  const shelf = able.filter((choice) => choices[choice]?.wave === 0);
  const suppliers = [...new Set(able.map((choice) => choices[choice]?.supplier ?? 0))];
  const ofOne = suppliers.map((supplier) =>
    able.filter((choice) => choices[choice]?.supplier === supplier || shelf.includes(choice)),
  );
  const scopes = requirement.oneSupplier || ofOne.length < 2 ? ofOne : [...ofOne, able];
  const ways = [
    ...ofOne.flatMap((own) => pairs(own, index, choices, requirement.pieces)),
    ...scopes.flatMap((own) => oneAfterAnother(own, index, choices, requirement)),
  ];
  const distinct = new Map(ways.map((way) => [JSON.stringify(way.units), way]));
  return [...distinct.values()];
}

interface Start {
  way: CutWay;
  rest: readonly Pieces[];
}

function pairs(
  own: readonly number[],
  index: number,
  choices: readonly Choice[],
  pieces: readonly Pieces[],
): CutWay[] {
  const begun = own.flatMap((choice) => starts(choice, index, choices, pieces));
  return begun.flatMap(({ way, rest }) =>
    rest.length === 0
      ? [way]
      : own.flatMap((choice) =>
          starts(choice, index, choices, rest)
            .filter((end) => end.rest.length === 0)
            .flatMap((end) => joined(way, end.way, choices)),
        ),
  );
}

/** A choice alone, as far as it goes; of fixed lengths also all but the last. */
function starts(
  at: number,
  requirement: number,
  choices: readonly Choice[],
  pieces: readonly Pieces[],
): Start[] {
  const choice = choices[at];
  if (!choice) return [];
  const all = taken(at, choice, requirement, pieces, Infinity);
  if (!all) return [];
  const lengths = all.way.cuts.length;
  const fewer =
    choice.form === 'length' && lengths > 1 ? taken(at, choice, requirement, pieces, lengths - 1) : undefined;
  return fewer ? [all, fewer] : [all];
}

/** What comes out of at most so many lengths of a choice; by the metre, out of one. Undefined where nothing does. */
function taken(
  at: number,
  choice: Choice,
  requirement: number,
  pieces: readonly Pieces[],
  most: number,
): Start | undefined {
  const each = eachFor(choice, requirement);
  const stock = choice.mostUnits ?? Infinity;
  const metre = choice.form === 'metre';
  const { lengths, rest } = metre
    ? firstFit(Math.min(stock * each, totalMm(pieces)), pieces, 1)
    : firstFit(each, pieces, Math.min(stock, most));
  if (lengths.length === 0) return undefined;
  const needed = metre ? unitsToCover(totalMm(lengths[0]?.pieces ?? []), each) : lengths.length;
  const units = unitsAtLeast(choice, needed);
  if (units === undefined) return undefined;
  const cuts = lengths.map((filled): Cut => ({ choice: at, lengths: 1, pieces: filled.pieces }));
  return { way: { units: [{ choice: at, units }], cuts }, rest };
}

/** Both together; nothing where they share a choice, or would be two continuous lengths. */
function joined(a: CutWay, b: CutWay, choices: readonly Choice[]): CutWay[] {
  const twice = a.units.some(({ choice }) => b.units.some((other) => other.choice === choice));
  const isMetre = ({ units }: CutWay) => units.some(({ choice }) => choices[choice]?.form === 'metre');
  return twice || (isMetre(a) && isMetre(b))
    ? []
    : [{ units: [...a.units, ...b.units], cuts: [...a.cuts, ...b.cuts] }];
}

/** Fixed lengths one after the other, cheapest a metre first and longest first; a continuous length before, after, or none; several after them. */
function oneAfterAnother(
  own: readonly number[],
  index: number,
  choices: readonly Choice[],
  { pieces, several }: Requirement,
): CutWay[] {
  const ofForm = (form: Choice['form']) => own.filter((at) => choices[at]?.form === form);
  const lengths = ofForm('length');
  const each = (at: number) => {
    const choice = choices[at];
    return choice ? eachFor(choice, index) : 0;
  };
  const dearer = (a: number, b: number) => {
    const [left, right] = [a, b].map((at) => choices[at]?.tiers[0]?.price ?? 0n);
    return Number((left ?? 0n) * BigInt(each(b)) - (right ?? 0n) * BigInt(each(a)));
  };
  const orders = [[...lengths].sort(dearer), [...lengths].sort((a, b) => each(b) - each(a))];
  const metres = ofForm('metre').sort(dearer);
  return orders.flatMap((order) =>
    [
      order,
      ...(several ? [[...order, ...metres]] : []),
      ...ofForm('metre').flatMap((metre) => [
        [...order, metre],
        [metre, ...order],
      ]),
    ].flatMap((list) => inTurn(list, index, choices, pieces) ?? []),
  );
}

function inTurn(
  order: readonly number[],
  index: number,
  choices: readonly Choice[],
  pieces: readonly Pieces[],
): CutWay | undefined {
  let rest = pieces;
  const way: { units: CutWay['units'][number][]; cuts: Cut[] } = { units: [], cuts: [] };
  for (const at of order) {
    const choice = choices[at];
    const next = choice && rest.length > 0 ? taken(at, choice, index, rest, Infinity) : undefined;
    if (!next) continue;
    way.units.push(...next.way.units);
    way.cuts.push(...next.way.cuts);
    rest = next.rest;
  }
  return rest.length === 0 ? way : undefined;
}
