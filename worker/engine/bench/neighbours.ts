import type { BenchTests } from '../model/benchTests.ts';
import { addTo } from '../model/group.ts';
import { naturally } from '../model/naturally.ts';
import type { OwnCircuits } from './circuits.ts';
import type { OnBench } from './onBench.ts';
import type { BenchPlaces } from './places.ts';
import { pinsOf } from './points.ts';

/**
 * Ways that lie side by side in a housing, a joiner or a fuse holder and belong to different circuits: those that follow each
 * other in the order of its pins, else of the numbers and letters in their names; empty ways are passed over.
 */
export function neighboursOnBench(
  points: ReadonlyMap<string, OnBench>,
  places: BenchPlaces,
  circuits: OwnCircuits,
  mayBeep: (a: number, b: number) => boolean,
): BenchTests['neighbours'] {
  const byPoint = new Map<string, number[]>();
  places.all.forEach(({ probe, late }, place) => {
    if (probe.way !== undefined && !late && points.get(probe.point)?.here === true)
      addTo(byPoint, probe.point, place);
  });
  return [...points].flatMap(([id, { point, part }]) => {
    const order = new Map(pinsOf(point, part).map((pin, index) => [pin, index]));
    const rank = (place: number) => order.get(places.at(place).probe.way ?? '') ?? order.size;
    const way = (place: number) => places.at(place).probe.way ?? '';
    const own = [...(byPoint.get(id) ?? [])].sort(
      (a, b) => rank(a) - rank(b) || naturally(way(a), way(b)) || a - b,
    );
    return own.slice(1).flatMap((b, index) => {
      const a = own[index] ?? b;
      const [one, other] = [circuits.at(a), circuits.at(b)];
      if (mayBeep(one, other)) return [];
      return [{ point: id, a: places.briefly(a), b: places.briefly(b) }];
    });
  });
}
