import type { JobLoom } from '../../model/job.ts';
import { byCode } from '../../model/code.ts';
import { tradeLabel } from '../../trade/wireSizes.ts';
import { joinOf, SIDES, type End, type Side } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { Supply } from '../../model/supply.ts';
import type { AskedLoom } from '../asked.ts';
import { supplyOf } from './supply.ts';
import { sharedKey } from './terminals.ts';

type PartUse = NonNullable<End['terminal']>;

/** A place in a loom at which so many of a part stand. */
export interface Place {
  part: string;
  supply: Supply | 'otherLoom';
  /** Not stated by the loom: the setting says where it comes from. */
  bySetting?: true;
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
export function placesOf(asked: AskedLoom, parts: ReadonlyMap<string, Part>): Place[] {
  const { loom } = asked;
  return [...pointPlaces(asked, parts), ...endPlaces(loom), ...fittingPlaces(loom), ...listedPlaces(loom)];
}

function pointPlaces({ loom, settings }: AskedLoom, parts: ReadonlyMap<string, Part>): Place[] {
  return loom.points.flatMap((point, index): Place[] => {
    if (point.part === undefined) return [];
    const others = point.suppliedByLoom !== undefined && point.suppliedByLoom !== loom.code;
    const { supply, bySetting } = supplyOf(point, parts.get(point.part), settings);
    return [
      {
        part: point.part,
        supply: others ? 'otherLoom' : supply,
        ...(bySetting && !others ? { bySetting } : {}),
        each: 1,
        where: `point ${point.id}`,
        path: ['points', index, 'part'],
      },
    ];
  });
}

/** Ends at one point that share a terminal, and what they state of it. */
interface SharedEnds {
  terminal: { use: PartUse; path: PropertyKey[] } | undefined;
  /** By part: a cover stated at one of the ends or at all is one cover over the terminal. */
  covers: Map<string, { use: PartUse; path: PropertyKey[] }>;
  ends: string[];
  sizes: string[];
  end: End;
}

/** Terminals, seals, covers and labels. Ends at one point that share a terminal count it once, and so its cover. */
function endPlaces(loom: JobLoom): Place[] {
  const places: Place[] = [];
  const shared = new Map<string, SharedEnds>();
  loom.wires.forEach((wire, index) => {
    for (const side of SIDES) {
      const end = wire[side];
      const at = (use: 'terminal' | 'seal' | 'cover' | 'label') => {
        const stated = end[use];
        if (!stated) return;
        const place = placeAt(stated, wire.id, side, use, index);
        if (use !== 'label') place.join = joinOf(end);
        if (use === 'terminal' && joinOf(end) === 'crimp') place.sizes = tradeLabel(wire.size);
        places.push(place);
      };
      if (end.sharesTerminal === undefined) {
        at('terminal');
        at('seal');
        at('cover');
      } else {
        const key = sharedKey(end);
        const group: SharedEnds = shared.get(key) ?? {
          terminal: undefined,
          covers: new Map(),
          ends: [],
          sizes: [],
          end,
        };
        shared.set(key, group);
        group.ends.push(`wire ${wire.id}, ${side}`);
        if (joinOf(end) === 'crimp') group.sizes.push(tradeLabel(wire.size));
        const path = (what: 'terminal' | 'cover') => ['wires', index, side, what, 'part'];
        if (end.terminal) group.terminal ??= { use: end.terminal, path: path('terminal') };
        if (end.cover) addCover(group, end.cover, path('cover'));
        at('seal');
      }
      at('label');
    }
  });
  for (const { terminal, covers, ends, sizes, end } of shared.values()) {
    const at = `at point ${end.point} (${end.sharesTerminal}): ${ends.join('; ')}`;
    if (terminal)
      places.push({
        ...terminal.use,
        each: 1,
        join: joinOf(end),
        ...(sizes.length > 0 ? { sizes: sizes.sort(byCode).join(' + ') } : {}),
        where: `one terminal shared ${at}`,
        path: terminal.path,
      });
    for (const { use, path } of covers.values())
      places.push({ ...use, each: 1, join: joinOf(end), where: `cover of one terminal shared ${at}`, path });
  }
  return places;
}

/** Where one end says that the cover is bought and another that it is not, it is bought: the checks tell that they differ. */
function addCover({ covers }: SharedEnds, use: PartUse, path: PropertyKey[]): void {
  const known = covers.get(use.part);
  if (!known || (known.use.supply !== 'buy' && use.supply === 'buy')) covers.set(use.part, { use, path });
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
