import type { JobInput } from '../../../worker/engine/model/job.ts';
import type { Random } from '../../sourcing/random.ts';
import {
  DEVICES,
  FAMILIES,
  FITTINGS,
  isThin,
  SLEEVES,
  STUDS_MM,
  WIRES,
  type Family,
  type Wire,
} from './catalogue.ts';

export type Loom = JobInput['looms'][number];
type WireEntry = NonNullable<Loom['wires']>[number];
type End = WireEntry['from'];
type Point = NonNullable<Loom['points']>[number];

/** How big a loom is, and of how many of the colours it is made. */
export interface Size {
  wires: number;
  colours: number;
}

/** A member's loom: its own share of the colours, sizes, families and sleeves; the same ones as others’ looms in part. */
export function memberLoom(code: string, { wires, colours }: Size, random: Random): Loom {
  const palette = some(WIRES, colours, random);
  const points = new Points(some(FAMILIES, 3, random), random);
  return {
    code,
    name: `A member's loom of ${wires} wires`,
    wires: Array.from({ length: wires }, (_, at): WireEntry => {
      // A few colours are used more than others; each once at least.
      const wire =
        palette[at] ?? palette[Math.min(random.whole(0, colours - 1), random.whole(0, colours - 1))];
      if (!wire) throw new RangeError('a loom without colours');
      const from = points.end(wire);
      return {
        id: `W${at + 1}`,
        cableType: 'pvc-vehicle',
        size: { system: 'metricStrands', strands: wire.strands, strandMm: 0.3 },
        colour: wire.colour,
        from,
        to: points.end(wire, from.point),
        length: { mm: 5 * Math.min(random.whole(30, 800), random.whole(30, 800)), basis: 'route' },
      };
    }),
    points: points.all,
    coverings: coveringsOf(Math.ceil(wires / 3), random),
    fittings: FITTINGS.filter(() => random.percent(75)).map(({ type, code }) => ({
      part: code,
      quantity: type === 'tie' ? random.whole(10, 40) : random.whole(1, 8),
    })),
  };
}

function coveringsOf(count: number, random: Random): NonNullable<Loom['coverings']> {
  const sleeves = some(SLEEVES, 9, random);
  return [
    ...Array.from({ length: count }, (_, at) => {
      const { kind, code, cm } = sleeves[at] ?? random.pick(sleeves);
      const [least, most] = cm;
      return { id: `C${at + 1}`, kind, part: code, lengthMm: 10 * random.whole(least, most) };
    }),
    { id: 'T1', kind: 'tape' as const, part: 'tape', lengthMm: 500 * random.whole(8, 40) },
  ];
}

/** The points of a loom, opened as ends need them. */
class Points {
  readonly all: Point[];
  readonly #random: Random;
  readonly #families: readonly Family[];
  /** Ends at each point so far, by its place. */
  readonly #ends: number[] = [];

  /** Devices that are bought stand at points of their own; the battery is one more, so that there is always another. */
  constructor(families: readonly Family[], random: Random) {
    this.#families = families;
    this.#random = random;
    this.all = DEVICES.filter(() => random.percent(70))
      .flatMap(({ code }) => Array.from({ length: random.whole(1, 2) }, () => code))
      .map((part, at) => ({ id: `D${at + 1}`, kind: 'device', part, supply: 'buy' }));
  }

  /** One more end, at another point than the one given. */
  end(wire: Wire, but?: string): End {
    const random = this.#random;
    const range = isThin(wire) ? 'thin' : 'thick';
    const drawn = random.whole(1, 100);
    const crimped = (point: string, terminal: string): End => ({
      point,
      join: 'crimp',
      terminal: { part: `${terminal}-${range}` },
    });
    if (range === 'thin' && drawn <= 40) {
      const { code, ways, sealed } = random.pick(this.#families);
      const point = this.#open({ kind: 'connector', part: `${code}-housing` }, ways, but);
      return {
        point: point.id,
        way: `${point.ends}`,
        join: 'crimp',
        terminal: { part: `${code}-contact` },
        ...(sealed ? { seal: { part: `${code}-seal` } } : {}),
      };
    }
    if (drawn <= 60) {
      const positions = random.pick([2, 4, 4]);
      const point = this.#open({ kind: 'joiner', part: `joiner-${positions}` }, positions, but);
      return crimped(point.id, 'bullet');
    }
    if (drawn <= 80) {
      const mm = random.pick(STUDS_MM);
      return crimped(this.#open({ kind: 'stud', studMm: mm }, 3, but).id, `ring-${mm}`);
    }
    const devices = this.all.filter(({ id, kind }) => kind === 'device' && id !== but);
    const device = devices.length > 0 ? random.pick(devices) : this.#open({ kind: 'device' }, 99, but);
    return { ...crimped(device.id, 'blade'), cover: { part: 'cover' } };
  }

  /** The last point of this kind and part, where it has room, or a new one; with the count of its ends. */
  #open(like: Omit<Point, 'id'>, room: number, but: string | undefined): { id: string; ends: number } {
    const at = this.all.findLastIndex(
      ({ id, kind, part, studMm }, index) =>
        id !== but &&
        kind === like.kind &&
        part === like.part &&
        studMm === like.studMm &&
        (this.#ends[index] ?? 0) < room,
    );
    const index = at < 0 ? this.all.push({ id: `P${this.all.length + 1}`, ...like }) - 1 : at;
    const ends = (this.#ends[index] ?? 0) + 1;
    this.#ends[index] = ends;
    return { id: this.all[index]?.id ?? '', ends };
  }
}

/** So many of a list, in its order. */
export function some<T>(list: readonly T[], count: number, random: Random): T[] {
  const left = list.map((item, at) => ({ item, at, rank: random.whole(0, 1_000_000) }));
  return left
    .sort((a, b) => a.rank - b.rank || a.at - b.at)
    .slice(0, count)
    .sort((a, b) => a.at - b.at)
    .map(({ item }) => item);
}
