import { describe, expect, test } from 'vitest';
import { bare, jobOf, points, wire } from '../fixtures.ts';
import { foundIn, inTerminal, terminalOf, told, type PointInput } from './told.ts';

const ring = (code: string, sizeMm?: number) =>
  terminalOf(code, { terminalType: 'ring', ...(sizeMm === undefined ? {} : { sizeMm }) });

const PARTS = [
  ...[4.3, 4.8, 5, 5.3, 6, 6.4, 8, 8.4, 9.5, 10, 10.5].map((hole) => ring(`ring-${hole}`, hole)),
  ring('ring-unknown'),
  terminalOf('blade-9.5', { sizeMm: 9.5 }),
];

/** A wire to the stud S in each of these terminals; a way is stated as "ring-6.4@B+". */
const onStud = (terminals: string[], point: Partial<PointInput> = {}) =>
  jobOf({
    parts: PARTS,
    loom: {
      points: [{ id: 'S', kind: 'stud', ...point }, ...points('Z')],
      wires: terminals.map((name, index) => {
        const [part = '', way] = name.split('@');
        return wire(`${index + 1}`, {
          from: { point: 'S', join: 'crimp', ...inTerminal(part), ...(way === undefined ? {} : { way }) },
          to: bare('Z'),
        });
      }),
    },
  });

const RING_CODES = ['ring-too-small', 'ring-too-large', 'rings-differ'];
const ringsTold = (...of: Parameters<typeof onStud>) => told(onStud(...of), ...RING_CODES);

describe('a ring on a stud of stated size', () => {
  // ISO 273, medium series (engineeringhardware.com): 6 → 6.6, 8 → 9. ¼ inch is 6.35 mm; 2 BA is 4.7 mm (from memory).
  test.each([
    ['ring-6', 6],
    ['ring-6.4', 6],
    ['ring-6.4', 6.35],
    ['ring-5.3', 4.7],
    ['ring-5', 4.7],
    ['ring-8.4', 7.9375],
    ['ring-10.5', 9.525],
    ['ring-unknown', 6],
    ['blade-9.5', 6],
  ])('suits it: %s on %d mm', (terminal, studMm) => {
    expect(ringsTold([terminal], { studMm })).toEqual([]);
  });

  test.each([
    ['ring-6', 6.35],
    ['ring-4.3', 4.7],
    ['ring-8', 8.01],
  ])('does not go on: %s on %d mm', (terminal, studMm) => {
    expect(ringsTold([terminal], { studMm })).toEqual(['ring-too-small wire:1:from']);
  });

  test.each([
    ['ring-6', 5],
    ['ring-8', 6.35],
    ['ring-10', 8],
    ['ring-6.4', 4.7],
  ])('lies loose on it: %s on %d mm', (terminal, studMm) => {
    expect(ringsTold([terminal], { studMm })).toEqual(['ring-too-large wire:1:from']);
  });

  test('is told one by one, with its figures, the limit and its source', () => {
    const found = foundIn(onStud(['ring-5', 'ring-6.4', 'ring-8.4'], { studMm: 6 }), ...RING_CODES);
    expect(found).toMatchObject([
      {
        severity: 'stop',
        subject: 'wire:1:from',
        at: '/looms/0/wires/0/from/terminal/part',
        found: 'ring-5, a hole of 5 mm on a stud of 6 mm',
        limit: 'a hole of at least 6 mm',
      },
      {
        severity: 'warning',
        subject: 'wire:3:from',
        found: 'ring-8.4, a hole of 8.4 mm on a stud of 6 mm',
        limit: 'a hole of at most 6.6 mm',
      },
    ]);
    expect(found[1]?.source).toContain('ISO 273');
  });
});

describe('rings on a stud that states no size', () => {
  test.each([[['ring-6', 'ring-6.4']], [['ring-8', 'ring-8.4']], [['ring-4.8', 'ring-5.3']], [['ring-6']]])(
    'may be for one size, stated by the stud or by the hole: %s',
    (terminals) => expect(ringsTold(terminals)).toEqual([]),
  );

  test.each([
    [['ring-5', 'ring-6']],
    [['ring-6.4', 'ring-8.4']],
    [['ring-8', 'ring-10']],
    [['ring-8.4', 'ring-10.5']],
    [['ring-10.5', 'ring-6', 'ring-10']],
  ])('cannot all be for one: %s', (terminals) => {
    expect(ringsTold(terminals)).toEqual(['rings-differ point:S']);
  });

  test('are named from the narrowest to the widest', () => {
    const [found] = foundIn(onStud(['ring-8.4', 'ring-6.4']), 'rings-differ');
    expect(found).toMatchObject({
      severity: 'warning',
      at: '/looms/0/points/0',
      found:
        'rings with different holes on one stud: ring-6.4 (6.4 mm) of wire 2, from, ring-8.4 (8.4 mm) of wire 1, from',
    });
  });

  test('of a device are compared in each of its ways', () => {
    const device = { kind: 'device' as const };
    expect(ringsTold(['ring-5@S', 'ring-8.4@B', 'ring-5.3@S', 'ring-10'], device)).toEqual([]);
    expect(ringsTold(['ring-5@S', 'ring-8.4@B', 'ring-6.4@S'], device)).toEqual([
      'rings-differ point:S:way:S',
    ]);
  });
});

test('a device may state the size of its studs', () => {
  const device = { kind: 'device' as const, studMm: 5 };
  expect(ringsTold(['ring-5.3@S', 'ring-6@B', 'ring-4.3'], device)).toEqual([
    'ring-too-small wire:3:from',
    'ring-too-large wire:2:from',
  ]);
});
