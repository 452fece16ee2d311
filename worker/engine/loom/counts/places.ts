import type { JobLoom } from '../../model/job.ts';
import { byCode } from '../../model/code.ts';
import { tradeLabel } from '../../trade/wireSizes.ts';
import { SIDES, type End, type Supply, type Side } from '../../model/loom.ts';
import { sharedKey } from './terminals.ts';

type PartUse = NonNullable<End['terminal']>;

/** A place in a loom at which so many of a part stand. */
export interface Place {
  part: string;
  supply: Supply | 'otherLoom';
  each: number;
  /** Of a terminal, its cover or a seal at a wire's end: how it is joined there. */
  join?: End['join'];
  /** Of a crimped terminal: the sizes of the wires that go in it, as they are said. */
  sizes?: string;
  /** In words: "wire W3, from, seal". */
  where: string;
  /** Below the loom, as a pointer's keys, to the field that names the part. */
  path: PropertyKey[];
}

/** Every place of a loom at which a part is counted: points, wire ends, fittings, the list of parts. */
export function placesOf(loom: JobLoom): Place[] {
  return [...pointPlaces(loom), ...endPlaces(loom), ...fittingPlaces(loom), ...listedPlaces(loom)];
}

function pointPlaces(loom: JobLoom): Place[] {
  return loom.points.flatMap((point, index) =>
    point.part === undefined
      ? []
      : [
          {
            part: point.part,
            supply:
              point.suppliedByLoom === undefined || point.suppliedByLoom === loom.code
                ? point.supply
                : 'otherLoom',
            each: 1,
            where: `point ${point.id}`,
            path: ['points', index, 'part'],
          },
        ],
  );
}

/** Terminals, seals, covers and labels. Ends at one point that share a terminal count it once. */
function endPlaces(loom: JobLoom): Place[] {
  const places: Place[] = [];
  const shared = new Map<
    string,
    { use: PartUse | undefined; ends: string[]; sizes: string[]; end: End; path: PropertyKey[] }
  >();
  loom.wires.forEach((wire, index) => {
    for (const side of SIDES) {
      const end = wire[side];
      const at = (use: 'terminal' | 'seal' | 'cover' | 'label') => {
        const stated = end[use];
        if (!stated) return;
        const place = placeAt(stated, wire.id, side, use, index);
        if (use !== 'label') place.join = end.join;
        if (use === 'terminal' && end.join === 'crimp') place.sizes = tradeLabel(wire.size);
        places.push(place);
      };
      if (end.sharesTerminal === undefined) at('terminal');
      else {
        const key = sharedKey(end);
        const group = shared.get(key) ?? { use: undefined, ends: [], sizes: [], end, path: [] };
        group.ends.push(`wire ${wire.id}, ${side}`);
        if (end.join === 'crimp') group.sizes.push(tradeLabel(wire.size));
        if (group.use === undefined && end.terminal !== undefined) {
          group.use = end.terminal;
          group.path = ['wires', index, side, 'terminal', 'part'];
        }
        shared.set(key, group);
      }
      at('seal');
      at('cover');
      at('label');
    }
  });
  for (const { use, ends, sizes, end, path } of shared.values())
    if (use)
      places.push({
        ...use,
        each: 1,
        join: end.join,
        ...(sizes.length > 0 ? { sizes: sizes.sort(byCode).join(' + ') } : {}),
        where: `one terminal shared at point ${end.point} (${end.sharesTerminal}): ${ends.join('; ')}`,
        path,
      });
  return places;
}

function placeAt(
  use: PartUse,
  wire: string,
  side: Side,
  what: 'terminal' | 'seal' | 'cover' | 'label',
  index: number,
): Place {
  return {
    part: use.part,
    supply: use.supply,
    each: 1,
    where: `wire ${wire}, ${side}, ${what}`,
    path: ['wires', index, side, what, 'part'],
  };
}

function fittingPlaces(loom: JobLoom): Place[] {
  return loom.fittings.map((fitting, index) => ({
    part: fitting.part,
    supply: fitting.supply,
    each: fitting.quantity,
    where: [
      'fitting',
      ...(fitting.branch === undefined ? [] : [`on branch ${fitting.branch}`]),
      ...(fitting.atMm === undefined ? [] : [`at ${fitting.atMm} mm`]),
    ].join(' '),
    path: ['fittings', index, 'part'],
  }));
}

function listedPlaces(loom: JobLoom): Place[] {
  return loom.parts.map((listed, index) => ({
    part: listed.part,
    supply: listed.supply,
    each: listed.quantity,
    where: 'list of parts',
    path: ['parts', index, 'part'],
  }));
}
