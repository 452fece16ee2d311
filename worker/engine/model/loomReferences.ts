import { colourFault } from './colourFault.ts';
import type { SayFault } from './gathered.ts';
import type { LoomRevision } from './loom.ts';
import { optionFaults } from './loomOptions.ts';

type Named = { id: string }[];

/**
 * Says every reference inside a loom that leads nowhere, every id that stands twice, every loom that holds nothing. `unsure`
 * names the lists of which not all could be read: what is not found in these may be there.
 */
export function loomReferences(loom: LoomRevision, unsure: ReadonlySet<string>, fault: SayFault): void {
  const ids = (list: Named, field: string, word: string) => {
    const seen = new Map<string, number>();
    list.forEach((item, index) => {
      const first = seen.get(item.id);
      if (first !== undefined)
        fault(
          'duplicate-id',
          [field, index, 'id'],
          `the id ${item.id} is already used at ${field}/${first}; give one ${word} another id`,
        );
      else if (typeof item.id === 'string') seen.set(item.id, index);
    });
    return seen;
  };
  const points = ids(loom.points, 'points', 'point');
  const branches = ids(loom.branches, 'branches', 'branch');
  const wires = ids(loom.wires, 'wires', 'wire');
  const cables = ids(loom.cables, 'cables', 'cable');
  const coverings = ids(loom.coverings, 'coverings', 'covering');

  const unsureOf = new Set(
    Object.entries({ points, branches, wires, cables, coverings }).flatMap(([name, set]) =>
      unsure.has(name) ? [set] : [],
    ),
  );

  const known = (set: Map<string, number>, word: string, id: string | undefined, path: PropertyKey[]) => {
    if (typeof id === 'string' && !set.has(id) && !unsureOf.has(set))
      fault(`missing-${word}`, path, `there is no ${word} ${id} in this loom; add it or name another`);
  };
  const branchList = (list: string[] | undefined, path: PropertyKey[]) =>
    list?.forEach((id, index) => known(branches, 'branch', id, [...path, index]));

  loom.branches.forEach((branch, index) => {
    known(points, 'point', branch.from, ['branches', index, 'from']);
    known(points, 'point', branch.to, ['branches', index, 'to']);
    if (branch.from !== undefined && branch.from === branch.to)
      fault(
        'branch-to-itself',
        ['branches', index, 'to'],
        'a branch joins two different points; name another point',
      );
  });
  loom.wires.forEach((wire, index) => {
    const faultOfColour = colourFault(wire.colour, loom.colourSystem);
    if (faultOfColour)
      fault(faultOfColour.code, ['wires', index, 'colour', ...faultOfColour.path], faultOfColour.message);
    known(points, 'point', wire.from.point, ['wires', index, 'from', 'point']);
    known(points, 'point', wire.to.point, ['wires', index, 'to', 'point']);
    known(cables, 'cable', wire.inCable, ['wires', index, 'inCable']);
    known(wires, 'wire', wire.twistedWith, ['wires', index, 'twistedWith']);
    if (wire.twistedWith !== undefined && wire.twistedWith === wire.id)
      fault(
        'twisted-with-itself',
        ['wires', index, 'twistedWith'],
        'a wire cannot be twisted with itself; name another wire',
      );
    branchList(wire.via, ['wires', index, 'via']);
  });
  loom.cables.forEach((cable, index) => branchList(cable.via, ['cables', index, 'via']));
  loom.coverings.forEach((covering, index) => {
    branchList(covering.over, ['coverings', index, 'over']);
    known(coverings, 'covering', covering.outer, ['coverings', index, 'outer']);
    if ((covering.over === undefined) === (covering.lengthMm === undefined))
      fault(
        'covering-length',
        ['coverings', index],
        'state either the branches that the covering lies over or its length',
      );
  });
  loom.fittings.forEach((fitting, index) =>
    known(branches, 'branch', fitting.branch, ['fittings', index, 'branch']),
  );
  loom.points.forEach((point, index) => {
    const mate = point.matedTo;
    if (!mate || mate.loom !== undefined) return;
    known(points, 'point', mate.point, ['points', index, 'matedTo', 'point']);
    if (mate.point !== undefined && mate.point === point.id)
      fault(
        'mated-to-itself',
        ['points', index, 'matedTo', 'point'],
        'a half cannot be plugged into itself; name another point',
      );
  });
  const accepted = new Map<string, number>();
  loom.asOriginal.forEach(({ finding, subject }, index) => {
    if (typeof finding !== 'string' || typeof subject !== 'string') return;
    const key = JSON.stringify([finding, subject]);
    const first = accepted.get(key);
    if (first === undefined) accepted.set(key, index);
    else
      fault(
        'accepted-twice',
        ['asOriginal', index],
        `this fault is already accepted at asOriginal/${first}; accept it once`,
      );
  });

  const empty = ['wires', 'cables', 'coverings', 'fittings', 'parts', 'points'] as const;
  if (unsure.size === 0 && empty.every((field) => loom[field].length === 0))
    fault('empty-loom', ['wires'], 'the loom has no wires and no parts; enter at least one');
  sharedTerminals(loom, fault);
  if (!unsure.has('options')) optionFaults(loom, fault);
}

/** Ends that share a terminal agree on which: the part is stated at one of them or alike at all. */
function sharedTerminals(loom: LoomRevision, fault: SayFault): void {
  const first = new Map<string, { part: string; supply: string; at: string }>();
  loom.wires.forEach((wire, index) => {
    for (const side of ['from', 'to'] as const) {
      const end = wire[side];
      if (end.sharesTerminal === undefined || end.terminal === undefined) continue;
      const key = JSON.stringify([end.point, end.sharesTerminal]);
      const other = first.get(key);
      if (other === undefined) first.set(key, { ...end.terminal, at: `wire ${wire.id}, ${side}` });
      else if (other.part !== end.terminal.part || other.supply !== end.terminal.supply)
        fault(
          'shared-terminal',
          ['wires', index, side, 'terminal', other.part !== end.terminal.part ? 'part' : 'supply'],
          `this end shares terminal ${end.sharesTerminal} with ${other.at}, which states ${other.part} (${other.supply}); state the same at both`,
        );
    }
  });
}

/** Every part that a loom names, with the path at which it is named. */
export function partsNamed(loom: LoomRevision): { part: string; path: PropertyKey[] }[] {
  const named: { part: string; path: PropertyKey[] }[] = [];
  const add = (part: string | undefined, path: PropertyKey[]) => {
    if (typeof part === 'string') named.push({ part, path });
  };
  for (const field of ['points', 'cables', 'coverings', 'fittings', 'parts'] as const)
    loom[field].forEach((item, index) => add(item.part, [field, index, 'part']));
  loom.wires.forEach((wire, index) => {
    for (const side of ['from', 'to'] as const)
      for (const use of ['terminal', 'seal', 'cover', 'label'] as const)
        add(wire[side][use]?.part, ['wires', index, side, use, 'part']);
  });
  return named;
}
