import { usableMm } from './usable.ts';
import { fits } from './cutting.ts';
import type { Bought } from './judge.ts';
import { RULES_ON } from './rules.ts';
import type { Requirement } from './scenarios.ts';

/** Whether a purchase meets all these requirements at once, each piece of it given to one of them. */
export function isMet(requirements: readonly Requirement[], bought: readonly Bought[]): boolean {
  return (
    requirements.every((requirement) =>
      requirement.rolledUp.kind === 'length'
        ? isCut(requirement, bought)
        : requirement.rolledUp.kind === 'count' || hasTool(requirement, bought),
    ) && isShared(requirements, bought)
  );
}

function isCut({ rolledUp, accepts, onlyOffer, shelf }: Requirement, bought: readonly Bought[]): boolean {
  if (rolledUp.kind !== 'length') return false;
  const here = bought.filter(
    ({ offer }) =>
      'part' in offer && accepts.has(offer.part) && (onlyOffer === undefined || onlyOffer === offer.code),
  );
  const lengths = here.flatMap(({ offer, wave, count }) =>
    offer.form === 'length'
      ? Array.from({ length: count }, () => ({ mm: usableMm(offer, RULES_ON), wave }))
      : [{ mm: count, wave }],
  );
  const all = [...shelf.lengths.map((mm) => ({ mm, wave: 1 })), ...lengths];
  if (rolledUp.joinable)
    return rolledUp.pieces.every(({ wave }) => {
      const upTo = (list: typeof all) =>
        list.reduce((sum, each) => sum + (each.wave <= wave ? each.mm : 0), 0);
      return upTo(all) >= upTo(rolledUp.pieces);
    });
  const byMetre = here.filter(({ offer }) => offer.form === 'metre').map(({ wave }) => wave);
  return (
    (!rolledUp.oneMetre || new Set(byMetre).size === byMetre.length) &&
    (!rolledUp.oneSupplier || new Set(here.map(({ offer }) => offer.supplier)).size <= 1) &&
    fits(rolledUp.pieces, all)
  );
}

function hasTool({ rolledUp, accepts }: Requirement, bought: readonly Bought[]): boolean {
  return piecesIn(bought).some(
    ({ part, wave }) => rolledUp.kind === 'tool' && accepts.has(part) && wave <= rolledUp.wave,
  );
}

interface Supply {
  part: string;
  /** None: the shelf. */
  offer: string | undefined;
  wave: number;
  left: number;
}

/** Pieces bought, by part and order. */
function piecesIn(bought: readonly Bought[]): Supply[] {
  return bought.flatMap(({ offer, wave, count }) => {
    if (offer.form === 'kit')
      return offer.contents.map(({ part, quantity }) => ({
        part,
        offer: offer.code,
        wave,
        left: quantity * count,
      }));
    return offer.form === 'pack'
      ? [{ part: offer.part, offer: offer.code, wave, left: offer.packCount * count }]
      : [];
  });
}

/** Gives pieces to counted requirements one by one, each time along a way that takes them from others where need be. */
function isShared(requirements: readonly Requirement[], bought: readonly Bought[]): boolean {
  const shelf = new Map(requirements.flatMap((requirement) => [...requirement.shelf.pieces]));
  const supplies = [
    ...[...shelf].map(([part, left]): Supply => ({ part, offer: undefined, wave: 0, left })),
    ...piecesIn(bought),
  ];
  const wants = requirements.flatMap((requirement) => {
    const { rolledUp } = requirement;
    if (rolledUp.kind !== 'count') return [];
    return rolledUp.byWave.map((upTo, index) => ({
      requirement,
      wave: index + 1,
      owed: upTo - (rolledUp.byWave[index - 1] ?? 0),
    }));
  });
  const given = supplies.map(() => wants.map(() => 0));
  const may = ({ part, offer, wave }: Supply, want: (typeof wants)[number]) =>
    (offer === undefined ? want.requirement.shelf.pieces.has(part) : want.requirement.accepts.has(part)) &&
    wave <= want.wave &&
    (want.requirement.onlyOffer === undefined || want.requirement.onlyOffer === offer);
  /** One piece for the want, from what is left or from a want that can have another. */
  const give = (place: number, tried: Set<number>): boolean =>
    supplies.some((supply, from) => {
      const row = given[from];
      const want = wants[place];
      if (!row || !want || tried.has(from) || !may(supply, want)) return false;
      tried.add(from);
      if (supply.left > 0) supply.left -= 1;
      else {
        const other = row.findIndex((many, index) => many > 0 && index !== place && give(index, tried));
        if (other < 0) return false;
        row[other] = (row[other] ?? 0) - 1;
      }
      row[place] = (row[place] ?? 0) + 1;
      return true;
    });
  return wants.every(({ owed }, place) => Array.from({ length: owed }).every(() => give(place, new Set())));
}
