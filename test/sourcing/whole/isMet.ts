import { usableMm } from './usable.ts';
import { fits } from './cutting.ts';
import type { Bought } from './judge.ts';
import { RULES_ON } from './rules.ts';
import type { Demand } from './scenarios.ts';

/** Whether a purchase meets all these demands at once, each piece of it given to one of them. */
export function isMet(demands: readonly Demand[], bought: readonly Bought[]): boolean {
  return (
    demands.every((demand) =>
      demand.need.kind === 'length'
        ? isCut(demand, bought)
        : demand.need.kind === 'count' || hasTool(demand, bought),
    ) && isShared(demands, bought)
  );
}

function isCut({ need, accepts, onlyOffer, shelf }: Demand, bought: readonly Bought[]): boolean {
  if (need.kind !== 'length') return false;
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
  if (need.joinable)
    return need.pieces.every(({ wave }) => {
      const upTo = (list: typeof all) =>
        list.reduce((sum, each) => sum + (each.wave <= wave ? each.mm : 0), 0);
      return upTo(all) >= upTo(need.pieces);
    });
  const byMetre = here.filter(({ offer }) => offer.form === 'metre').map(({ wave }) => wave);
  return (
    (!need.oneMetre || new Set(byMetre).size === byMetre.length) &&
    (!need.oneSupplier || new Set(here.map(({ offer }) => offer.supplier)).size <= 1) &&
    fits(need.pieces, all)
  );
}

function hasTool({ need, accepts }: Demand, bought: readonly Bought[]): boolean {
  return piecesIn(bought).some(
    ({ part, wave }) => need.kind === 'tool' && accepts.has(part) && wave <= need.wave,
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

/** Gives pieces to counted demands one by one, each time along a way that takes them from others where need be. */
function isShared(demands: readonly Demand[], bought: readonly Bought[]): boolean {
  const shelf = new Map(demands.flatMap((demand) => [...demand.shelf.pieces]));
  const supplies = [
    ...[...shelf].map(([part, left]): Supply => ({ part, offer: undefined, wave: 0, left })),
    ...piecesIn(bought),
  ];
  const wants = demands.flatMap((demand) => {
    const { need } = demand;
    if (need.kind !== 'count') return [];
    return need.byWave.map((upTo, index) => ({
      demand,
      wave: index + 1,
      owed: upTo - (need.byWave[index - 1] ?? 0),
    }));
  });
  const given = supplies.map(() => wants.map(() => 0));
  const may = ({ part, offer, wave }: Supply, want: (typeof wants)[number]) =>
    (offer === undefined ? want.demand.shelf.pieces.has(part) : want.demand.accepts.has(part)) &&
    wave <= want.wave &&
    (want.demand.onlyOffer === undefined || want.demand.onlyOffer === offer);
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
