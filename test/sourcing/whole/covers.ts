import { piecesFor, type Offer } from './onSale.ts';
import type { Rules } from './rules.ts';
import type { Requirement } from './scenarios.ts';

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

/** A requirement up to one of the orders. */
interface Upto {
  requirement: Requirement;
  wave: number;
}

/**
 * What counted requirements ask of a purchase: that for every choice of requirements, each up to one of the orders, the pieces that
 * may serve any of them are as many as they need together (Hall's condition: then every piece can be given to one requirement).
 * A tool serves all that it works at once, so that it is asked for by itself.
 */
export function coversOf(
  requirements: readonly Requirement[],
  places: readonly Place[],
  rules: Rules,
): Cover[] {
  const sharing = requirements.filter(
    ({ rolledUp }) => rolledUp.kind === 'count' || (rolledUp.kind === 'tool' && !rules.toolsShared),
  );
  const alone = requirements.filter(({ rolledUp }) => rolledUp.kind === 'tool' && rules.toolsShared);
  const singles = [...sharing, ...alone].flatMap((requirement) => uptosOf(requirement).map((one) => [one]));
  const together = rules.standInsShared ? choicesOf(sharing, rules).filter(({ length }) => length > 1) : [];
  return [...singles, ...together].map((chosen) => ({
    required: requiredBy(chosen, rules),
    each: places.map((place) => eachOf(place, chosen, rules)),
  }));
}

function uptosOf(requirement: Requirement): Upto[] {
  const { rolledUp } = requirement;
  if (rolledUp.kind === 'tool') return [{ requirement, wave: rolledUp.wave }];
  return rolledUp.kind === 'count'
    ? rolledUp.byWave.map((_, index) => ({ requirement, wave: index + 1 }))
    : [];
}

/** Every choice of requirements with the order up to which each counts. Where nothing is carried over, of one order's. */
function choicesOf(requirements: readonly Requirement[], rules: Rules): Upto[][] {
  const all = requirements.reduce<Upto[][]>(
    (before, requirement) =>
      before.flatMap((chosen) => [chosen, ...uptosOf(requirement).map((one) => [...chosen, one])]),
    [[]],
  );
  return rules.wavesCarryOver
    ? all
    : all.filter((chosen) => new Set(chosen.map(({ wave }) => wave)).size === 1);
}

/** Pieces that they take together beside those on the shelf for any of them. */
function requiredBy(chosen: readonly Upto[], rules: Rules): number {
  const pieces = new Map(chosen.flatMap(({ requirement }) => [...requirement.shelf.pieces]));
  const onShelf = [...pieces.values()].reduce((sum, count) => sum + count, 0);
  const upTo = (back: number) =>
    chosen.reduce((sum, { requirement: { rolledUp }, wave }) => {
      if (rolledUp.kind === 'tool') return back === 0 ? sum + 1 : sum;
      return rolledUp.kind === 'count' ? sum + (rolledUp.byWave[wave - 1 - back] ?? 0) : sum;
    }, 0);
  const beside = (many: number) => Math.max(0, many - onShelf);
  return beside(upTo(0)) - (rules.wavesCarryOver ? 0 : beside(upTo(1)));
}

/** Pieces in a pack or kit that may serve one of the chosen requirements. */
function eachOf({ offer, wave }: Place, chosen: readonly Upto[], rules: Rules): number {
  const open = chosen.filter((one) => (rules.wavesCarryOver ? one.wave >= wave : one.wave === wave));
  if (open.length === 0) return 0;
  const accepts = new Set(
    open
      .filter(({ requirement: { onlyOffer } }) => onlyOffer === undefined || onlyOffer === offer.code)
      .flatMap(({ requirement }) => [...requirement.accepts]),
  );
  const [{ requirement }] = open as [Upto];
  return piecesFor(offer, { ...requirement, accepts, onlyOffer: undefined });
}
