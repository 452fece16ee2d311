import { describe, expect, test } from 'vitest';
import { checkCurrent } from '../../../worker/engine/loom/checks/current.ts';
import type { Branches } from '../../../worker/engine/loom/graph/branches.ts';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { bare, crimped, points, wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Wire = ReturnType<typeof wire>;
type Part = JobInput['parts'][number];

const pvc = (id: string, amps: number, more: Partial<Wire> = {}) =>
  wire(id, {
    cableType: 'pvc-vehicle',
    size: { system: 'imperialStrands', strands: 14, strandInch: 0.012 },
    amps,
    ...more,
  });
const check = (wires: Wire[], parts: Part[] = [], loom: object = {}, branches?: Branches) =>
  checkCurrent(contextOf({ parts, loom: { points: points('A', 'B'), wires, ...loom } }, branches));

const red = (code: string, more: object): Part => ({
  kind: 'wire',
  code,
  description: code,
  cableType: 'pvc-vehicle',
  size: { system: 'mm2', areaMm2: 1 },
  colour: { base: 'red' },
  ...more,
});

describe('a wire', () => {
  // 8.75 A: rydertowing.co.uk, cable table, 14/0.30.
  test('is overloaded above the amps of its cable type, not at them', () => {
    expect(inShort(check([pvc('1', 8.75), pvc('2', 8.76)]))).toEqual(['wire-overloaded wire:2']);
  });

  test('is told with both amps, where they stand, and that bundles take nothing off', () => {
    const [finding] = check([pvc('1', 10)]);
    expect(finding).toMatchObject({
      severity: 'warning',
      at: '/looms/0/wires/0/amps',
      found: '10 A through pvc-vehicle 14/.012',
      limit: 'at most 8.75 A',
    });
    expect(finding?.source).toContain('no published derating for bundled vehicle cable is known');
  });

  test('has the amps that its part states, of any colour; of several the least', () => {
    expect(check([pvc('1', 10)], [red('a', { ratedAmps: 12 })])).toEqual([]);
    const least = check([pvc('1', 10)], [red('a', { ratedAmps: 12 }), red('b', { ratedAmps: 9 })]);
    expect(least[0]?.limit).toBe('at most 9 A');
    expect(least[0]?.source).toContain('part b, the least that parts of this wire state');
  });

  test('of which no rating is known is told by itself, with what to enter, where it has amps or a fuse before it', () => {
    const thin = (id: string, more: Partial<Wire>) => wire(id, more);
    const found = check([
      thin('1', {}),
      thin('2', { amps: 3 }),
      thin('3', { amps: 5 }),
      thin('4', { size: { system: 'mm2', areaMm2: 2 }, fuse: { ratingAmps: 5, basis: 'continuous' } }),
    ]);
    expect(inShort(found)).toEqual([
      'rating-unknown wire:2',
      'rating-unknown wire:3',
      'rating-unknown wire:4',
    ]);
    expect(found[0]).toMatchObject({ severity: 'warning', at: '/looms/0/wires/1/cableType' });
    expect(found[2]?.found).toContain('thin-wall 2 mm², so this is not checked: behind a fuse of 5 A');
    expect(found[0]?.todo).toContain('State ratedAmps');
  });

  // cableyutai.com.tw, tech-02: AWG 16 25 A. 1 mm² is thinner than AWG 16 (ASTM B258: 1.3087 mm²) and thicker than AWG 18.
  test('is found beyond what copper of its size carries even where no rating is known', () => {
    const fused = (ratingAmps: number, basis: 'continuous' | 'blow') =>
      check([wire('1', { fuse: { ratingAmps, basis } })]);
    expect(inShort(fused(25, 'continuous'))).toEqual(['rating-unknown wire:1']);
    expect(inShort(fused(50, 'blow'))).toEqual(['rating-unknown wire:1']);
    const [stop] = fused(26, 'continuous');
    expect(stop).toMatchObject({ code: 'fuse-too-big', severity: 'stop', subject: 'wire:1' });
    expect(stop?.limit).toContain('25 A');
    expect(stop?.source).toContain('boat cable of 105 °C');
    expect(stop?.source).toContain('not a rating of this wire');
    expect(inShort(check([wire('1', { amps: 25 })]))).toEqual(['rating-unknown wire:1']);
    expect(inShort(check([wire('1', { amps: 25.1 })]))).toEqual(['wire-overloaded wire:1']);
  });

  // FLRY 105 °C, FLRYW 125 °C: makers' sheets.
  test('worked hotter than its letters bear is told once a loom', () => {
    const at = (workingTemperatureC: number) =>
      inShort(
        check(
          ['FLRY-B', 'FLRY-B', 'FLRYW'].map((cableType, n) => wire(`${n}`, { cableType })),
          [],
          { settings: { workingTemperatureC } },
        ),
      );
    expect(at(105)).toEqual([]);
    expect(at(106)).toEqual(['wire-too-hot wire:0']);
    expect(at(126)).toEqual(['wire-too-hot wire:0', 'wire-too-hot wire:2']);
  });
});

describe('boat cable', () => {
  const boat = (id: string, amps: number) =>
    wire(id, { cableType: 'boat', size: { system: 'awg', gauge: '14' }, amps });
  /** All wires of the loom on one branch, with so many others beside. */
  const among = (wires: number): Branches => {
    const lying = Array.from({ length: wires }, (_, n) => ({ id: `${n + 1}` }));
    return { of: () => [{ wires: lying }] } as unknown as Branches;
  };

  // cableyutai.com.tw, tech-02: AWG 14 35 A; 3 wires 0.7, 4 to 6 0.6, 7 to 24 0.5 of it.
  test.each([
    [2, 35],
    [3, 24.5],
    [6, 21],
    [7, 17.5],
    [24, 17.5],
  ])('carries less among others: of %i wires %d A', (wires, most) => {
    expect(check([boat('1', most)], [], {}, among(wires))).toEqual([]);
    expect(inShort(check([boat('1', most + 0.1)], [], {}, among(wires)))).toEqual(['wire-overloaded wire:1']);
  });

  test('is not judged in a bundle greater than the table goes', () => {
    expect(inShort(check([boat('1', 99)], [], {}, among(25)))).toEqual(['rating-unknown wire:1']);
  });

  test('has its table to itself: vehicle cable in the same bundle keeps its amps', () => {
    expect(check([pvc('1', 8.75)], [], {}, among(24))).toEqual([]);
  });
});

describe('a terminal', () => {
  const ring: Part = {
    kind: 'terminal',
    code: 'ring',
    description: 'Ring',
    terminalType: 'ring',
    ratedAmps: 6,
  };

  test('is overloaded above its own rating, at the end where it is', () => {
    const ends = { from: crimped('A', 'ring'), to: bare('B') };
    expect(inShort(check([pvc('1', 6, ends), pvc('2', 7, ends)], [ring]))).toEqual([
      'terminal-overloaded wire:2:from',
    ]);
  });

  test('that is shared is looked up at the end that names it', () => {
    const shared = { point: 'A', join: 'crimp' as const, sharesTerminal: 'R' };
    const wires = [
      pvc('1', 0, { from: { ...shared, terminal: { part: 'ring' } } }),
      pvc('2', 7, { from: shared }),
    ];
    expect(inShort(check(wires, [ring]))).toEqual(['terminal-overloaded wire:2:from']);
  });
});

describe('a device', () => {
  const at = (device: object, ...amps: number[]) =>
    check(
      amps.map((each, n) => pvc(`${n}`, each)),
      [{ kind: 'device', code: 'd', description: 'Device', deviceType: 'switch', ...device }],
      { points: [{ id: 'A', kind: 'device', part: 'd' }, ...points('B')] },
    );

  test('is overloaded where the heaviest of its wires carries more than it is rated for, once', () => {
    expect(at({ ratedAmps: 5 }, 2, 5)).toEqual([]);
    const found = at({ ratedAmps: 5 }, 6, 7, 8);
    expect(inShort(found)).toEqual(['device-overloaded point:A']);
    expect(found[0]?.found).toContain('8 A of wire 2');
  });

  test('that is a fuse is told where all fuses are, not as an overloaded device', () => {
    expect(at({ deviceType: 'fuse', ratedAmps: 10, fuseBasis: 'blow' }, 8)).toEqual([]);
  });
});
