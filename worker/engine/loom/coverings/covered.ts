import { addTo } from '../../model/group.ts';
import { toNanometre } from '../../units/nanometre.ts';
import type { AskedLoom } from '../asked.ts';
import type { Branches } from '../graph/branches.ts';
import type { Coverings } from './layers.ts';
import { outsideMm } from './outside.ts';

/** The branches with what lies over them, the outermost. */
export function covered(looms: readonly AskedLoom[], branches: Branches, coverings: Coverings): Branches {
  const contents = new Map(
    looms.map(({ loom, settings }) => {
      const over = new Map<string, (number | undefined)[]>();
      for (const { part, under } of coverings.of(loom.code))
        for (const { content, innerMm } of under)
          addTo(
            over,
            content.branch.id,
            part && innerMm !== undefined ? outsideMm(part, innerMm, settings) : undefined,
          );
      return [
        loom.code,
        branches.of(loom.code).map((content) => {
          const outsides = over.get(content.branch.id) ?? [];
          const known = outsides.filter((outside) => outside !== undefined);
          const all = content.bundle !== undefined && known.length === outsides.length;
          return {
            ...content,
            coveredMm: all ? toNanometre(Math.max(content.bundle?.diameterMm ?? 0, ...known)) : undefined,
          };
        }),
      ] as const;
    }),
  );
  return { of: (loom) => contents.get(loom) ?? [] };
}
