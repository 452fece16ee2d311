import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { checkFuseEntries } from '../../../worker/engine/loom/checks/fuseEntries.ts';
import { wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Part = JobInput['parts'][number];
type Loom = JobInput['looms'][number];
type Wire = ReturnType<typeof wire>;
type Fuse = NonNullable<Wire['fuse']>;

const amps = (ratingAmps: number, basis: Fuse['basis'] = 'continuous'): Fuse => ({ ratingAmps, basis });
const device = (code: string, more: object): Part => ({
  kind: 'device',
  code,
  description: code,
  deviceType: 'fuseHolder',
  ...more,
});
const glass = (code: string, { ratingAmps, basis }: Fuse) =>
  device(code, { deviceType: 'fuse', ratedAmps: ratingAmps, fuseBasis: basis });

/** Two wires at a holder, of which the second states the fuse. */
const held = (fuse: Fuse | undefined, parts: Part[], listed: string[] = [], loom: Partial<Loom> = {}) =>
  checkFuseEntries(
    contextOf({
      parts,
      loom: {
        points: [
          { id: 'stud', kind: 'stud' },
          { id: 'holder', kind: 'device', ...(parts[0] ? { part: parts[0].code } : {}) },
          { id: 'lamp', kind: 'device' },
        ],
        parts: listed.map((part) => ({ part, quantity: 2 })),
        wires: [
          wire('1', { from: { point: 'stud', join: 'crimp' }, to: { point: 'holder', join: 'crimp' } }),
          wire('2', {
            from: { point: 'holder', join: 'crimp' },
            to: { point: 'lamp', join: 'crimp' },
            ...(fuse ? { fuse } : {}),
          }),
        ],
        ...loom,
      },
    }),
  );
const holder = device('holder', {});

describe('a fuse that a wire states', () => {
  const between = (from: object, to: object, more: Partial<Wire> = {}) =>
    inShort(
      checkFuseEntries(
        contextOf({
          loom: {
            points: [
              { id: 'A', kind: 'stud', ...from },
              { id: 'B', kind: 'device', ...to },
            ],
            wires: [wire('1', { fuse: amps(10), ...more })],
          },
        }),
      ),
    );

  test('without a holder or fuse box at either end is told', () => {
    expect(between({}, {})).toEqual(['fuse-without-holder wire:1']);
  });

  test('is not told where a fuse box is at one end, where the wire leads out of the looms, or of a fusible link', () => {
    expect(between({}, { label: 'Fuse box' })).toEqual([]);
    expect(between({ kind: 'connector', label: 'Plug of the fuse box' }, {})).toEqual([]);
    expect(between({ kind: 'connector' }, {})).toEqual([]);
    expect(between({ kind: 'flyingLead' }, {})).toEqual([]);
    expect(between({}, {}, { function: { fixedMm: 150 } })).toEqual([]);
  });

  test('is another one than that of its holder’s part, in rating or in basis', () => {
    expect(held(amps(15), [glass('g', amps(15))])).toEqual([]);
    const [rating] = held(amps(15), [glass('g', amps(35))]);
    expect(rating).toMatchObject({ code: 'fuse-differs', severity: 'warning', subject: 'point:holder' });
    expect(rating?.found).toContain('35 A continuous rating at part g, 15 A continuous rating at wire 2');
    expect(inShort(held(amps(15), [glass('g', amps(15, 'blow'))]))).toEqual([
      'fuse-basis-differs point:holder',
    ]);
  });

  test('is none of those that the loom lists', () => {
    const parts = [holder, glass('g35', amps(35, 'blow')), glass('g15', amps(15))];
    expect(held(amps(15), parts, ['g15'])).toEqual([]);
    expect(held(amps(15), parts, ['g15', 'g35'])).toEqual([]);
    expect(held(amps(15), parts)).toEqual([]);
    expect(inShort(held(amps(15), parts, ['g35']))).toEqual(['fuse-differs point:holder']);
    expect(inShort(held(amps(35), parts, ['g35']))).toEqual(['fuse-basis-differs point:holder']);
  });
});

describe('a holder', () => {
  test('of which nobody states the fuse is told, with those that it may be', () => {
    const parts = [holder, glass('a', amps(5)), glass('b', amps(10))];
    expect(inShort(held(undefined, parts))).toEqual(['fuse-not-stated point:holder']);
    expect(held(undefined, parts, ['a', 'b'])[0]?.found).toContain('it may be any of a, b');
    // One sort alone is listed, so it is that one.
    expect(held(undefined, parts, ['a'])).toEqual([]);
  });

  test('whose ways nothing pairs is told and not guessed', () => {
    const at = (way: string) => ({ point: 'holder', join: 'crimp' as const, way });
    const box = (...ways: string[]) =>
      inShort(
        held(undefined, [device('box', { pins: ways })], [], {
          wires: ways.map((way) => wire(way, { from: { point: 'lamp', join: 'bare' }, to: at(way) })),
        }),
      );
    expect(box('X', 'Y', 'Z')).toEqual(['fuse-not-paired point:holder']);
    expect(box('in1', 'out1', 'Q')).toContain('fuse-not-paired point:holder');
    expect(box('X', 'Y', 'Z', 'V')).toEqual(['fuse-not-stated point:holder']);
  });
});
