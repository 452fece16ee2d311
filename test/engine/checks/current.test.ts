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
      limit: '8.75 A at the most',
    });
    expect(finding?.source).toContain('no published derating of bundled vehicle cable is at hand');
  });

  test('has the amps that its part states, of any colour; of several the least', () => {
    expect(check([pvc('1', 10)], [red('a', { ratedAmps: 12 })])).toEqual([]);
    const least = check([pvc('1', 10)], [red('a', { ratedAmps: 12 }), red('b', { ratedAmps: 9 })]);
    expect(least[0]?.limit).toBe('9 A at the most');
    expect(least[0]?.source).toContain('part b, the least that parts of this wire state');
  });

  test('of which no rating is known is told once a cable type and size, and only where it has amps or a fuse', () => {
    const thin = (id: string, more: Partial<Wire>) => wire(id, more);
    const found = check([
      thin('1', {}),
      thin('2', { amps: 3 }),
      thin('3', { amps: 50 }),
      thin('4', { size: { system: 'mm2', areaMm2: 2 }, fuse: { ratingAmps: 5, basis: 'continuous' } }),
    ]);
    expect(inShort(found)).toEqual(['rating-unknown wire:2', 'rating-unknown wire:4']);
    expect(found[0]).toMatchObject({ severity: 'note' });
    expect(found[0]?.found).toContain('first of 2 wires');
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

  test('that is a fuse marked by the amps that blow it carries half of them', () => {
    const fuse = { deviceType: 'fuse', ratedAmps: 10, fuseBasis: 'blow' };
    expect(at(fuse, 5)).toEqual([]);
    expect(inShort(at(fuse, 5.1))).toEqual(['device-overloaded point:A']);
  });
});
