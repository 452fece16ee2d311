import type { AskedLoom } from '../loom/asked.ts';
import { joinOf, SIDES, type End } from '../model/loom.ts';
import type { PieceEnd } from '../model/pieceEnd.ts';
import type { Requirement } from '../model/result.ts';

/** The requirements with both ends of each wire piece: the point, the way and the terminal, as the bench needs them. */
export function withEnds(requirements: readonly Requirement[], looms: readonly AskedLoom[]): Requirement[] {
  const ends = new Map(
    looms.map((asked) => {
      const labels = new Map(asked.loom.points.map(({ id, label }) => [id, label]));
      const each = asked.loom.wires.map(
        (wire) => [wire.id, SIDES.map((side) => pieceEnd(wire[side], asked, labels))] as const,
      );
      return [asked.loom.code, new Map(each)] as const;
    }),
  );
  return requirements.map((requirement) => {
    if (requirement.kind !== 'wire') return requirement;
    const pieces = requirement.pieces.map(({ steps, ...piece }) => {
      const own = ends.get(piece.loom)?.get(piece.wire);
      return { ...piece, ...(own ? { ends: own } : {}), steps };
    });
    return { ...requirement, pieces };
  });
}

function pieceEnd(
  end: End,
  { terminalOf }: AskedLoom,
  labels: ReadonlyMap<string, string | undefined>,
): PieceEnd {
  const label = labels.get(end.point);
  const terminal = terminalOf(end);
  return {
    point: end.point,
    ...(label === undefined ? {} : { label }),
    ...(end.way === undefined ? {} : { way: end.way }),
    join: joinOf(end),
    ...(terminal ? { terminal: terminal.part } : {}),
    ...(end.sharesTerminal === undefined ? {} : { shared: true }),
    ...(end.terminateInVehicle === true ? { inVehicle: true } : {}),
  };
}
