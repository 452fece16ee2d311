import type { BenchTests } from '../model/benchTests.ts';
import { addTo } from '../model/group.ts';
import { SIDES } from '../model/loom.ts';
import { naturally } from '../model/naturally.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import type { WireOf } from '../loom/graph/circuits.ts';
import { circuitsOnBench, type OwnCircuits } from './circuits.ts';
import { devicesOnBench } from './devices.ts';
import { fusesByLoom, fusesOnBench } from './fuses.ts';
import { loadedRuns, loadsOnBench } from './loads.ts';
import { neighboursOnBench } from './neighbours.ts';
import { onBench } from './onBench.ts';
import { benchPlaces, type BenchPlaces } from './places.ts';

/**
 * Works out what a meter must show on each loom, bare and unplugged, with all fuses out.
 */
export function testsOf(context: CheckContext): (asked: AskedLoom) => BenchTests {
  const fusesOf = fusesByLoom(context.protection);
  const runsOf = loadedRuns(context);
  const wires = new Map<AskedLoom, WireOf[]>();
  for (const circuit of context.circuits.all)
    for (const wire of circuit.wires) addTo(wires, wire.asked, wire);
  return (asked) => {
    const points = onBench(asked, context);
    const places = benchPlaces(asked, points);
    const circuits = circuitsOnBench(asked, places);
    const { devices, unknown, beepGroup } = devicesOnBench(asked, points, places, circuits);
    const mayBeep = (a: number, b: number) =>
      a === b || (beepGroup(a) !== undefined && beepGroup(a) === beepGroup(b));
    const fuses = fusesOnBench(asked, fusesOf(asked), points, places, circuits, mayBeep);
    return {
      circuits: circuits.all.map((own) => {
        const group = beepGroup(own.number);
        return {
          ...own,
          circuit: context.circuits.of(asked.loom.code, own.reference.ends[0]?.wire ?? '').id,
          ...(group === undefined ? {} : { beepGroup: group }),
        };
      }),
      neighbours: neighboursOnBench(points, places, circuits, mayBeep),
      devices,
      fuses: fuses.fuses,
      loads: loadsOnBench(runsOf(asked), places, circuits),
      joinedInVehicle: joinedInVehicle(wires.get(asked) ?? [], places, circuits),
      notTested: [...unknown, ...fuses.unknown],
    };
  };
}

/** Where circuits that are apart on the bench touch in the vehicle: at studs, plugs and devices. */
function joinedInVehicle(
  wires: readonly WireOf[],
  places: BenchPlaces,
  circuits: OwnCircuits,
): BenchTests['joinedInVehicle'] {
  const met = new Map<number, { points: Set<string>; circuits: Set<number> }>();
  for (const of of wires)
    for (const side of SIDES) {
      const at = met.get(of[side]) ?? { points: new Set(), circuits: new Set() };
      met.set(of[side], at);
      at.points.add(of.wire[side].point);
      at.circuits.add(circuits.at(places.of(of.wire, side)));
    }
  return [...met.values()]
    .filter((at) => at.circuits.size > 1)
    .map((at) => ({
      points: [...at.points].sort(naturally),
      circuits: [...at.circuits].sort((a, b) => a - b),
    }))
    .sort(
      (a, b) =>
        (a.circuits[0] ?? 0) - (b.circuits[0] ?? 0) || naturally(a.points[0] ?? '', b.points[0] ?? ''),
    );
}
