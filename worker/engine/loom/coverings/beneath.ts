import type { JobLoom } from '../../model/job.ts';
import type { BranchContent } from '../graph/branches.ts';
import type { Way } from '../graph/ways.ts';
import { toNanometre } from '../../units/nanometre.ts';
import { mm, type Beneath } from './fit.ts';

/** What lies beneath a covering on one of its branches. */
export interface Under {
  content: BranchContent;
  /** Over all that lies beneath, mm; 0 where nothing runs; undefined where an outside diameter is not known. */
  innerMm: number | undefined;
  /** The same by what is known alone, and never less for a wire more, mm: for lengths. */
  steadyMm: number;
}

/** What a covering goes over, in figures where they are known, and in words; else why they are not. */
export type Known = Beneath & { words: string };

type Covering = Pick<JobLoom['coverings'][number], 'over' | 'overlapStartMm' | 'overlapEndMm'>;

/** What lies beneath a covering, over all its branches; where it is not known, why in words. */
export function beneathOf(
  covering: Covering,
  way: Way | undefined,
  under: readonly Under[],
): Known | { words: string } {
  if (covering.over === undefined)
    return { words: 'it states a length and no branches, so its bundle is not known' };
  if (!way) return { words: 'its branches are not connected to each other' };
  const unknown = under.find(({ innerMm }) => innerMm === undefined);
  if (unknown) return { words: `the diameter over ${unknown.content.branch.id} is not known` };
  const filled = under.filter(({ innerMm }) => innerMm !== undefined && innerMm > 0);
  if (filled.length === 0) return { words: 'nothing runs along its branches' };
  const widths = filled.map(({ innerMm }) => innerMm ?? 0);
  const [thickestMm, thinnestMm] = [Math.max(...widths), Math.min(...widths)];
  const widest = filled.find(({ innerMm }) => innerMm === thickestMm);
  const range =
    thinnestMm === thickestMm ? mm(thickestMm) : `${mm(thickestMm)}, ${mm(thinnestMm)} at its thinnest`;
  return {
    thickestMm: toNanometre(thickestMm),
    thinnestMm: toNanometre(thinnestMm),
    threadedMm: way.lengthMm + covering.overlapStartMm + covering.overlapEndMm,
    words: widest && isBare(widest) ? `bundle ${range}, of ${countOf(widest.content)}` : `over ${range}`,
  };
}

/** Whether nothing but the bundle lies there. */
function isBare({ content, innerMm }: Under): boolean {
  return content.bundle?.diameterMm === innerMm;
}

/** "9 wires", "4 wires and 1 cable" */
function countOf({ wires, cables }: BranchContent): string {
  return [counted(wires.length, 'wire'), counted(cables.length, 'cable')].filter(Boolean).join(' and ');
}

const counted = (count: number, word: string) =>
  count === 0 ? '' : `${count} ${word}${count === 1 ? '' : 's'}`;
