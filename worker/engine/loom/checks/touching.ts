import { addTo } from '../../model/group.ts';
import { SIDES } from '../../model/loom.ts';
import type { Requirement } from '../../model/result.ts';
import type { CheckContext } from './context.ts';

/** Along branches all meets that lies in them, over them or on them. */
const BRANCHES = 'branches';

/** Finds where what a requirement needs stands: points by loom and id, with the other halves that they are plugged into. */
export function touching({ looms }: CheckContext): (requirement: Requirement) => ReadonlySet<string> {
  let byPart: Map<string, string[]> | undefined;
  const pointsOf = new Map(
    looms.map(({ loom }) => {
      const halves = new Map<string, string[]>();
      for (const { id, matedTo } of loom.points)
        if (matedTo) {
          addTo(halves, id, `${matedTo.loom ?? loom.code} ${matedTo.point}`);
          if (matedTo.loom === undefined) addTo(halves, matedTo.point, `${loom.code} ${id}`);
        }
      return [loom.code, halves] as const;
    }),
  );
  const at = (loom: string, point: string) => [`${loom} ${point}`, ...(pointsOf.get(loom)?.get(point) ?? [])];
  const placesOfParts = () => {
    const places = new Map<string, string[]>();
    const add = (part: string | undefined, where: readonly string[]) => {
      if (part !== undefined) for (const place of where) addTo(places, part, place);
    };
    for (const { loom } of looms) {
      for (const { id, part } of loom.points) add(part, at(loom.code, id));
      for (const { part } of loom.fittings) add(part, [BRANCHES]);
      for (const wire of loom.wires)
        for (const side of SIDES) {
          const { point, terminal, seal, cover, label } = wire[side];
          for (const use of [terminal, seal, cover, label]) add(use?.part, at(loom.code, point));
        }
    }
    return places;
  };
  const ends = new Map<string, string[]>();
  for (const { loom } of looms)
    for (const { id, from, to } of loom.wires)
      ends.set(`${loom.code} ${id}`, [...at(loom.code, from.point), ...at(loom.code, to.point)]);
  return (requirement) => {
    if (requirement.kind === 'length') return new Set([BRANCHES]);
    if (requirement.kind === 'wire')
      return new Set([
        BRANCHES,
        ...requirement.pieces.flatMap(({ loom, wire }) => ends.get(`${loom} ${wire}`) ?? []),
      ]);
    byPart ??= placesOfParts();
    return new Set(byPart.get(requirement.part) ?? []);
  };
}
