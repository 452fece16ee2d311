import { coveringCut } from '../loom/coverings/cut.ts';
import { finishedOf } from '../loom/coverings/finished.ts';
import type { Laid } from '../loom/coverings/layers.ts';
import type { AskedLoom } from '../loom/asked.ts';
import { addTo } from '../model/group.ts';
import type { Count } from './count.ts';

/**
 * The coverings of a loom: sleeve by the piece and by the metre that is threaded, tape by the metre that is wound, heat-shrink
 * by the piece. What is reused is threaded, not cut. Without a part, by the kind that is drawn and the length of its branches.
 */
export function countCoverings({ loom, settings }: AskedLoom, laid: readonly Laid[], count: Count): void {
  const meeting = new Map<string, string[]>();
  for (const { id, from, to } of loom.branches) for (const point of [from, to]) addTo(meeting, point, id);
  const leaving = new Map([...meeting].map(([point, branches]) => [point, branches.length]));
  for (const each of laid) {
    const kind = kindOf(each);
    const cut = each.part && coveringCut(each, settings, leaving);
    const mm = cut?.cutMm ?? finishedOf(each).mm;
    if (kind === 'tape') count('tape', mm);
    else {
      if (each.covering.supply !== 'reuse') count('cutting', 1);
      if (kind === 'heatShrink') count('heatShrink', 1);
      else {
        count('sleevePieces', 1);
        count('sleeveMetres', mm);
      }
    }
  }
}

function kindOf({ covering, part }: Laid): 'tape' | 'heatShrink' | 'sleeve' {
  if (part?.kind === 'tape') return 'tape';
  const kind = part?.kind === 'sleeve' ? part.sleeveType : covering.kind;
  return kind === 'tape' || kind === 'heatShrink' ? kind : 'sleeve';
}
