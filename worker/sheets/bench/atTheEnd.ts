import type { BenchEnd, BenchLoom, BenchWire } from '../../engine/model/bench.ts';
import type { PieceEnd } from '../../engine/model/pieceEnd.ts';
import type { Result } from '../../engine/model/result.ts';
import { boughtTerminals } from '../cutList.ts';

/** What is done at an end of a wire, as far as the result says it. */
export interface EndWork {
  point: string;
  /** "plug 1" */
  place: string;
  /** What is threaded on before the terminal, in this order. */
  first: readonly string[];
  stripMm: number | undefined;
  /** "blade-63, crimped" */
  join: string;
  /** The other wires in the same terminal, "W3"; empty where an older result only says that there are some. */
  sharedWith: readonly string[];
  shared: boolean;
  inVehicle: boolean;
  /** The label that the loom gives the point. */
  pointLabel: string | undefined;
}

/** Finds the bench's part of a result by the names of its pieces: "main/W3". */
export interface BenchIndex {
  wire: (name: string) => BenchWire | undefined;
  loom: (name: string) => BenchLoom | undefined;
  ends: (name: string, older?: readonly PieceEnd[]) => readonly EndWork[];
}

const JOINED: Record<BenchEnd['join'], string> = {
  crimp: 'crimped',
  solder: 'soldered',
  joint: 'joint',
  bare: 'left bare',
};

/** An older result has no bench: then the ends that its pieces name are all that is known. */
export function benchIndex(result: Result): BenchIndex {
  const looms = new Map((result.bench?.looms ?? []).map((loom) => [loom.loom, loom]));
  const wires = new Map(
    [...looms.values()].flatMap((loom) => loom.wires.map((wire) => [`${loom.loom}/${wire.wire}`, wire])),
  );
  const labels = new Map(
    [...looms.values()].flatMap((loom) =>
      loom.points.map(({ point, label }) => [`${loom.loom}/${point}`, label]),
    ),
  );
  const bought = boughtTerminals(result);
  const loomOf = (name: string) => name.slice(0, name.lastIndexOf('/'));
  return {
    wire: (name) => wires.get(name),
    loom: (name) => looms.get(loomOf(name)),
    ends: (name, older = []) =>
      wires.get(name)?.ends.map((end) => benchEnd(end, bought, labels.get(`${loomOf(name)}/${end.point}`))) ??
      older.map((end) => olderEnd(end, bought)),
  };
}

function benchEnd(end: BenchEnd, bought: (part: string) => string, pointLabel: string | undefined): EndWork {
  const { cover, seal, stripMm, sharesWith = [], inVehicle = false } = end;
  return {
    ...about(end, bought),
    // The cover lies behind the seal, so it goes on first.
    first: [cover, seal].flatMap((part) => (part === undefined ? [] : [bought(part)])),
    stripMm,
    sharedWith: sharesWith.map(({ wire }) => wire),
    shared: sharesWith.length > 0,
    inVehicle,
    pointLabel,
  };
}

function olderEnd(end: PieceEnd, bought: (part: string) => string): EndWork {
  const { shared = false, inVehicle = false, label } = end;
  return {
    ...about(end, bought),
    first: [],
    stripMm: undefined,
    sharedWith: [],
    shared,
    inVehicle,
    pointLabel: label,
  };
}

function about({ point, way, join, terminal }: BenchEnd | PieceEnd, bought: (part: string) => string) {
  const place = way === undefined ? point : `${point} ${way}`;
  const how = terminal === undefined ? JOINED[join] : `${bought(terminal)}, ${JOINED[join]}`;
  return { point, place, join: how };
}

/** "plug 1: thread boot-lug, then seal-2; strip 6; blade-63, crimped with W4" */
export function endWorkWords({
  place,
  first,
  stripMm,
  join,
  sharedWith,
  shared,
  inVehicle,
}: EndWork): string {
  const together = sharedWith.length > 0 ? ` with ${sharedWith.join(', ')}` : shared ? ', shared' : '';
  const work = [
    ...(first.length === 0 ? [] : [`thread ${first.join(', then ')}`]),
    ...(stripMm === undefined || stripMm === 0 ? [] : [`strip ${stripMm}`]),
    `${join}${together}`,
    ...(inVehicle ? ['FINISH IN THE VEHICLE'] : []),
  ];
  return `${place}: ${work.join('; ')}`;
}
