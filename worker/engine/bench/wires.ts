import type { BenchEnd, BenchWire } from '../model/bench.ts';
import type { WireEnd } from '../model/benchTests.ts';
import { shadesOf } from '../model/colour.ts';
import { addTo } from '../model/group.ts';
import { joinOf, SIDES, type End, type Wire } from '../model/loom.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import { sharedKey } from '../loom/counts/terminals.ts';
import type { Way } from '../loom/graph/ways.ts';
import { endAllowance } from '../loom/lengths/endAllowances.ts';
import { finishedInVehicle } from './inVehicle.ts';
import { wireCutsOf } from '../loom/wires/wireCuts.ts';
import { tradeAreaMm2 } from '../trade/wireSizes.ts';
import { MANY } from './places.ts';
import type { Cuts } from './cuts.ts';

/** The wires of a loom with all that is done at their ends, in its order. */
export function wiresOf(asked: AskedLoom, context: CheckContext, cuts: Cuts): BenchWire[] {
  const { loom, ways } = asked;
  const sharing = sharingOf(loom.wires);
  const isLate = finishedInVehicle(loom.wires);
  const cutOf = cutFinder(asked, context, cuts);
  return loom.wires.map((wire): BenchWire => {
    const cutMm = cutOf(wire);
    const way = ways.ofWire(wire).way;
    const tracerSleeve = cuts.tracerSleeve(loom.code, wire.id);
    return {
      wire: wire.id,
      circuit: context.circuits.of(loom.code, wire.id).id,
      ...(wire.circuit === undefined ? {} : { circuitName: wire.circuit }),
      cableType: wire.cableType,
      size: wire.size,
      colour: shadesOf(wire.colour),
      ...(cutMm === undefined ? {} : { cutMm }),
      ...(way ? { via: branchesFrom(way, wire.from.point) } : {}),
      ...(wire.inCable === undefined ? {} : { inCable: wire.inCable }),
      ...(wire.twistedWith === undefined ? {} : { twistedWith: wire.twistedWith }),
      ...(wire.function ? { functional: wire.function } : {}),
      ...(tracerSleeve ? { tracerSleeve } : {}),
      ...(wire.supply === 'buy' ? {} : { supply: wire.supply }),
      ends: [benchEnd(wire, 'from'), benchEnd(wire, 'to')],
      ...(wire.note === undefined ? {} : { note: wire.note }),
    };
  });

  function benchEnd(wire: Wire, side: (typeof SIDES)[number]): BenchEnd {
    const end = wire[side];
    const terminal = asked.terminalOf(end)?.part;
    const { stripMm, tailMm } = endAllowance(
      end,
      context.parts.get(terminal ?? ''),
      tradeAreaMm2(wire.size),
      asked.settings,
    );
    const others = sharing(end)
      .slice(0, MANY + 1)
      .filter((other) => other.wire !== wire.id || other.side !== side);
    return {
      point: end.point,
      ...(end.way === undefined ? {} : { way: end.way }),
      join: joinOf(end),
      stripMm,
      tailMm,
      ...(terminal === undefined ? {} : { terminal }),
      ...(end.seal ? { seal: end.seal.part } : {}),
      ...(end.cover ? { cover: end.cover.part } : {}),
      ...(end.label ? { label: end.label.part } : {}),
      ...(others.length === 0 ? {} : { sharesWith: others }),
      ...(isLate(end) ? { inVehicle: true } : {}),
    };
  }
}

/** The branches of a way, from a point on. */
function branchesFrom({ branches }: Way, start: string): string[] {
  let at: string | undefined = start;
  for (const { from, to } of branches) at = at === from ? to : at === to ? from : undefined;
  const ids = branches.map(({ id }) => id);
  return at === undefined ? ids.reverse() : ids;
}

/** Finds the ends that are in the terminal of an end, it among them; of one with a terminal of its own none. */
function sharingOf(wires: readonly Wire[]): (end: End) => readonly WireEnd[] {
  const groups = new Map<string, WireEnd[]>();
  for (const wire of wires)
    for (const side of SIDES)
      if (wire[side].sharesTerminal !== undefined)
        addTo(groups, sharedKey(wire[side]), { wire: wire.id, side });
  return (end) => (end.sharesTerminal === undefined ? [] : (groups.get(sharedKey(end)) ?? []));
}

/** Finds the cut length of a wire; a core is cut with its cable. */
function cutFinder(asked: AskedLoom, { job, figures }: CheckContext, cuts: Cuts) {
  const { loom, index } = asked;
  const { cutOf } = wireCutsOf(asked, job.parts, figures);
  return (wire: Wire): number | undefined => {
    if (wire.inCable !== undefined) return undefined;
    const at = { path: ['looms', index, 'wires'], where: '', subject: '' };
    return cuts.wire(loom.code, wire.id) ?? cutOf(wire, at).cut?.cutMm;
  };
}
