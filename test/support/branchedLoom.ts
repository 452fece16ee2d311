import type { JobInput } from '../../worker/engine/model/job.ts';
import { randomBelow } from './randomBelow.ts';

type Loom = JobInput['looms'][number];
type Wire = NonNullable<Loom['wires']>[number];
type End = Wire['from'];

interface Shape {
  wires: number;
  branches: number;
  /** How many such looms. */
  looms: number;
  seed: number;
}

const COLOURS = [
  'black',
  'green',
  'brown',
  'red',
  'blue',
  'white',
  'purple',
  'yellow',
  'orange',
  'pink',
] as const;
const STRANDS = [14, 28, 44] as const;
const OUTSIDE = { 14: 2.7, 28: 3.3, 44: 4.1 } as const;

/**
 * Looms in order: a tree of branches, each leg with its braid chosen to fit, a fitting on every third; wires from point
 * to point along the shortest way, each in a way of its own, with terminal, seal, current and fuse. Every check has its
 * work, and none has anything to say.
 */
export function branchedJob({ wires, branches, looms, seed }: Shape): JobInput {
  const all = Array.from({ length: looms }, (_, at) => loomOf(`loom-${at + 1}`, wires, branches, seed + at));
  return {
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-24',
    club: { currency: 'GBP' },
    parts: PARTS,
    suppliers: [],
    offers: [],
    looms: all,
    request: { looms: all.map(({ code }) => ({ loom: code, quantity: 1 })) },
  };
}

const PARTS: JobInput['parts'] = [
  ...STRANDS.flatMap((strands) =>
    COLOURS.map((base) => ({
      kind: 'wire' as const,
      code: `cable-${strands}-${base}`,
      description: `Cable ${strands}/0.30 ${base}`,
      cableType: 'pvc-vehicle',
      size: { system: 'metricStrands' as const, strands, strandMm: 0.3 },
      colour: { base },
      outsideDiameterMm: OUTSIDE[strands],
      resistanceMilliohmPerM: 264.6 / strands,
      ratedAmps: 0.5 * strands,
    })),
  ),
  {
    kind: 'terminal',
    code: 'pin',
    description: 'Pin',
    family: 'row',
    terminalType: 'pin',
    gender: 'male',
    join: 'crimp',
    wireMinMm2: 0.5,
    wireMaxMm2: 4,
    insulationMinMm: 2,
    insulationMaxMm: 5,
    ratedAmps: 30,
  },
  {
    kind: 'seal',
    code: 'seal',
    description: 'Seal',
    family: 'row',
    insulationMinMm: 2,
    insulationMaxMm: 5,
  },
  {
    kind: 'housing',
    code: 'row',
    description: 'Row',
    family: 'row',
    ways: 500,
    housingGender: 'socket',
    contactGender: 'male',
    sealed: true,
  },
  ...Array.from({ length: 40 }, (_, at) => ({
    kind: 'sleeve' as const,
    code: `braid-${String(at).padStart(2, '0')}`,
    description: `Braid ${at}`,
    sleeveType: 'braided' as const,
    holdsMinMm: 1 + at * 6,
    holdsMaxMm: 9 + at * 6,
  })),
];

function loomOf(code: string, wires: number, branches: number, seed: number): Loom {
  const below = randomBelow(seed);
  const points = Array.from({ length: branches + 1 }, (_, at) => `P${at}`);
  const used = points.map(() => 0);
  const end = (at: number): End => {
    const way = (used[at] ?? 0) + 1;
    used[at] = way;
    return {
      point: points[at] ?? '',
      way: `${way}`,
      join: 'crimp',
      terminal: { part: 'pin' },
      seal: { part: 'seal' },
    };
  };
  return {
    code,
    name: `A loom of ${wires} wires on ${branches} branches`,
    points: points.map((id, at) => ({
      id,
      kind: 'connector' as const,
      part: 'row',
      ...(at === 0 ? { feed: {} } : {}),
    })),
    // Each point hangs on one of the few before it, so that ways are long and branches full.
    branches: points.slice(1).map((id, at) => ({
      id: `B${at + 1}`,
      from: points[Math.max(0, at - below(Math.min(at + 1, 6)))] ?? '',
      to: id,
      lengthMm: 50 + below(400),
    })),
    wires: Array.from({ length: wires }, (_, at): Wire => {
      const from = below(points.length);
      const to = (from + 1 + below(Math.min(20, branches))) % points.length;
      const strands = STRANDS[below(STRANDS.length)] ?? 14;
      return {
        id: `W${at + 1}`,
        cableType: 'pvc-vehicle',
        size: { system: 'imperialStrands', strands, strandInch: 0.012 },
        colour: { base: COLOURS[below(COLOURS.length)] ?? 'black' },
        from: end(from),
        to: end(to),
        amps: 0.2,
        fuse: { ratingAmps: 5, basis: 'continuous' },
        // All of one name, so that alike colours are no risk.
        circuit: 'all',
      };
    }),
    coverings: points.slice(1).map((_, at) => ({
      id: `C${at + 1}`,
      kind: 'braided' as const,
      over: [`B${at + 1}`],
    })),
  };
}
