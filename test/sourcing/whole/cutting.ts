import { leftOver } from './packing.ts';
import type { LengthRequirement } from './requirements.ts';
import type { Rules } from './rules.ts';

/** A length to cut from, mm, there from an order on; 0: on the shelf. */
export interface Length {
  mm: number;
  wave: number;
  metre: boolean;
  seller: number;
}

/** Whether the lengths bought, and what is on the shelf where that serves, give all pieces of the need. */
export function cutFrom(
  requirement: LengthRequirement,
  onShelf: readonly number[],
  bought: readonly Length[],
  rules: Rules,
): boolean {
  const shelf = onShelf.map((mm) => ({ mm, wave: 0, metre: false, seller: -1 }));
  if (!mayStand(requirement, bought)) return false;
  const metres = bought.filter(({ metre }) => metre);
  if (!requirement.together && metres.length > 0 && metres.length < bought.length) return false;
  if (requirement.oneSupplier && !requirement.shelfBeside && shelf.length > 0)
    return gives(requirement, bought, rules) || (bought.length === 0 && gives(requirement, shelf, rules));
  return gives(requirement, [...shelf, ...bought], rules);
}

/** Whether lengths may stand together; where not, more of them do not either. */
export function mayStand(requirement: LengthRequirement, bought: readonly Length[]): boolean {
  const waves = bought.filter(({ metre }) => metre).map(({ wave }) => wave);
  return (
    !(requirement.oneMetre && new Set(waves).size < waves.length) &&
    !(requirement.oneSupplier && new Set(bought.map(({ seller }) => seller)).size > 1)
  );
}

function gives(requirement: LengthRequirement, lengths: readonly Length[], rules: Rules): boolean {
  const waves = [...new Set(requirement.pieces.map(({ wave }) => wave))];
  if (!rules.wavesCarryOver && waves.length > 1)
    return waves.every((wave) =>
      gives(
        { ...requirement, pieces: requirement.pieces.filter((piece) => piece.wave === wave) },
        lengths.filter((length) => length.wave === wave || length.wave === 0),
        rules,
      ),
    );
  if (requirement.joinable) return waves.every((wave) => enoughBy(wave, requirement, lengths));
  if (waves.length > 1) return fits(requirement.pieces, lengths);
  const [wave = 1] = waves;
  const inTime = lengths.filter((length) => length.wave <= wave);
  return (
    leftOver(
      requirement.pieces.map(({ mm }) => mm),
      inTime.map(({ mm }) => mm),
    ) === 0
  );
}

function enoughBy(wave: number, requirement: LengthRequirement, lengths: readonly Length[]): boolean {
  const upTo = (list: readonly { mm: number; wave: number }[]) =>
    list.filter((each) => each.wave <= wave).reduce((sum, { mm }) => sum + mm, 0);
  return upTo(lengths) >= upTo(requirement.pieces);
}

/** Whether the pieces can be cut whole, each out of any length that is there in its time. */
export function fits(
  pieces: readonly { mm: number; wave: number }[],
  lengths: readonly { mm: number; wave: number }[],
): boolean {
  const [piece, ...rest] = pieces;
  if (!piece) return true;
  const tried = new Set<string>();
  return lengths.some(({ mm, wave }, place) => {
    const key = `${mm} ${wave}`;
    if (mm < piece.mm || wave > piece.wave || tried.has(key)) return false;
    tried.add(key);
    return fits(rest, lengths.with(place, { mm: mm - piece.mm, wave }));
  });
}
