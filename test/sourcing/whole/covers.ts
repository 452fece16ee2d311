import { piecesFor, type Offer } from './onSale.ts';
import type { Rules } from './rules.ts';
import type { Demand } from './scenarios.ts';

/** An offer in one of the orders. */
export interface Place {
  offer: Offer;
  wave: number;
}

/** So many pieces are required in all of these columns, of each of which a pack or kit brings so many. */
export interface Cover {
  required: number;
  each: number[];
}

/** A demand up to one of the orders. */
interface Upto {
  demand: Demand;
  wave: number;
}

/**
 * What counted demands ask of a purchase: that for every choice of demands, each up to one of the orders, the pieces that
 * may serve any of them are as many as they need together (Hall's condition: then every piece can be given to one demand).
 * A tool serves all that it works at once, so that it is asked for by itself.
 */
export function coversOf(demands: readonly Demand[], places: readonly Place[], rules: Rules): Cover[] {
  const sharing = demands.filter(
    ({ need }) => need.kind === 'count' || (need.kind === 'tool' && !rules.toolsShared),
  );
  const alone = demands.filter(({ need }) => need.kind === 'tool' && rules.toolsShared);
  const singles = [...sharing, ...alone].flatMap((demand) => uptosOf(demand).map((one) => [one]));
  const together = rules.standInsShared ? choicesOf(sharing, rules).filter(({ length }) => length > 1) : [];
  return [...singles, ...together].map((chosen) => ({
    required: requiredBy(chosen, rules),
    each: places.map((place) => eachOf(place, chosen, rules)),
  }));
}

function uptosOf(demand: Demand): Upto[] {
  const { need } = demand;
  if (need.kind === 'tool') return [{ demand, wave: need.wave }];
  return need.kind === 'count' ? need.byWave.map((_, index) => ({ demand, wave: index + 1 })) : [];
}

/** Every choice of demands with the order up to which each counts. Where nothing is carried over, of one order's. */
function choicesOf(demands: readonly Demand[], rules: Rules): Upto[][] {
  const all = demands.reduce<Upto[][]>(
    (before, demand) =>
      before.flatMap((chosen) => [chosen, ...uptosOf(demand).map((one) => [...chosen, one])]),
    [[]],
  );
  return rules.wavesCarryOver
    ? all
    : all.filter((chosen) => new Set(chosen.map(({ wave }) => wave)).size === 1);
}

/** Pieces that they take together beside those on the shelf for any of them. */
function requiredBy(chosen: readonly Upto[], rules: Rules): number {
  const pieces = new Map(chosen.flatMap(({ demand }) => [...demand.shelf.pieces]));
  const onShelf = [...pieces.values()].reduce((sum, count) => sum + count, 0);
  const upTo = (back: number) =>
    chosen.reduce((sum, { demand: { need }, wave }) => {
      if (need.kind === 'tool') return back === 0 ? sum + 1 : sum;
      return need.kind === 'count' ? sum + (need.byWave[wave - 1 - back] ?? 0) : sum;
    }, 0);
  const beside = (many: number) => Math.max(0, many - onShelf);
  return beside(upTo(0)) - (rules.wavesCarryOver ? 0 : beside(upTo(1)));
}

/** Pieces in a pack or kit that may serve one of the chosen demands. */
function eachOf({ offer, wave }: Place, chosen: readonly Upto[], rules: Rules): number {
  const open = chosen.filter((one) => (rules.wavesCarryOver ? one.wave >= wave : one.wave === wave));
  if (open.length === 0) return 0;
  const accepts = new Set(
    open
      .filter(({ demand: { onlyOffer } }) => onlyOffer === undefined || onlyOffer === offer.code)
      .flatMap(({ demand }) => [...demand.accepts]),
  );
  const [{ demand }] = open as [Upto];
  return piecesFor(offer, { ...demand, accepts, onlyOffer: undefined });
}
