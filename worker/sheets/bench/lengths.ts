import type { Result } from '../../engine/model/result.ts';
import { cutGroups, type CutGroup, type CutRow } from '../cutList.ts';

/** One piece of one length, with where it lies on it. */
export interface PlacedPiece extends Omit<CutRow, 'count'> {
  /** From the start of the length, mm; undefined where it lies in no one length, as a piece of tape. */
  place: { fromMm: number; toMm: number } | undefined;
}

/** One length as it lies on the bench, with all that is cut from it, the longest piece first. */
export interface BenchLength {
  /** Its number on the sheet, from 1; undefined where the pieces come from no one length. */
  number: number | undefined;
  from: string;
  note: string;
  pieces: readonly PlacedPiece[];
  /** What is left of it; undefined where that is not known. */
  offcut: { mm: number; fromMm: number; keep: boolean } | undefined;
}

/**
 * Every length by itself and every piece by itself, in the order in which they are cut: need by need, the length with the
 * longest piece first.
 */
export function benchLengths(result: Result): BenchLength[] {
  const keepMm = offcutKeptMm(result);
  const groups = byNeed(cutGroups(result)).flatMap((own) => [...own].sort((a, b) => longest(b) - longest(a)));
  const all = groups.flatMap((group) => Array.from({ length: group.lengths }, () => group));
  let number = 0;
  return all.map((group): BenchLength => {
    const { from, note, leftMm } = group;
    if (leftMm === undefined)
      return { number: undefined, from, note, pieces: piecesOf(group, false), offcut: undefined };
    const pieces = piecesOf(group, true);
    const usedMm = pieces.at(-1)?.place?.toMm ?? 0;
    const offcut = { mm: leftMm, fromMm: usedMm, keep: leftMm >= keepMm };
    return { number: ++number, from, note, pieces, offcut };
  });
}

/** From what length an offcut is worth keeping, mm. */
export function offcutKeptMm({ settings }: Result): number {
  const { value } = settings['offcutMinimumMm'] ?? {};
  return typeof value === 'number' ? value : 0;
}

function byNeed(groups: readonly CutGroup[]): CutGroup[][] {
  const all = new Map<string, CutGroup[]>();
  for (const group of groups) all.set(group.need, [...(all.get(group.need) ?? []), group]);
  return [...all.values()];
}

const longest = ({ rows }: CutGroup) => rows[0]?.cutMm ?? 0;

function piecesOf({ rows }: CutGroup, placed: boolean): PlacedPiece[] {
  let at = 0;
  return rows.flatMap(({ count, ...row }) =>
    Array.from({ length: count }, (): PlacedPiece => {
      const fromMm = at;
      at += row.cutMm;
      return { ...row, place: placed ? { fromMm, toMm: at } : undefined };
    }),
  );
}
