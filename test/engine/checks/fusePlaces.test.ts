import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { checkFuses } from '../../../worker/engine/loom/checks/fuses.ts';
import { wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Wire = ReturnType<typeof wire>;
type Part = JobInput['parts'][number];
type Point = NonNullable<JobInput['looms'][number]['points']>[number];
type Fuse = NonNullable<Wire['fuse']>;

const pvc = (id: string, strands: number, more: Partial<Wire>): Wire =>
  wire(id, {
    cableType: 'pvc',
    size: { system: 'metricStrands', strands, strandMm: 0.3 },
    ...more,
  });
const holderPart = (more: object = {}): Part => ({
  kind: 'device',
  code: 'holder',
  description: 'Line holder',
  deviceType: 'fuseHolder',
  ...more,
});
const fusePart = ({ ratingAmps, basis }: Fuse, code = 'glass'): Part => ({
  kind: 'device',
  code,
  description: 'Glass fuse',
  deviceType: 'fuse',
  ratedAmps: ratingAmps,
  fuseBasis: basis,
});

/** How the one fuse between a battery and a lamp is entered. */
interface Entry {
  by: 'fusePart' | 'holderPart' | 'listed' | 'listedAndTaken' | 'feed' | 'outgoing';
  ways: 'named' | 'inOut' | 'none';
  circuit: boolean;
  feedStated: boolean;
}

/** Feed of 44/0.30, holder, and 14/0.30 on to the lamp. */
function lamp({ by, ways, circuit, feedStated }: Entry, fuse: Fuse, thin = 14) {
  const [first, second] = ways === 'inOut' ? ['in', 'out'] : ['1', '2'];
  const at = (way: string | undefined) => ({
    point: 'holder',
    join: 'crimp' as const,
    ...(ways === 'none' || way === undefined ? {} : { way }),
  });
  const named = circuit ? { circuit: 'lamp' } : {};
  const parts: Part[] =
    by === 'fusePart'
      ? [fusePart(fuse)]
      : by === 'holderPart'
        ? [holderPart({ ratedAmps: fuse.ratingAmps, fuseBasis: fuse.basis })]
        : by === 'listed'
          ? [holderPart(), fusePart(fuse)]
          : by === 'listedAndTaken'
            ? [holderPart(), fusePart(fuse), fusePart({ ratingAmps: 2, basis: 'continuous' }, 'tiny')]
            : [holderPart()];
  const listed = parts.flatMap((part) =>
    by.startsWith('listed') && part.code !== 'holder' ? [part.code] : [],
  );
  const points: Point[] = [
    { id: 'battery', kind: 'stud', ...(feedStated ? { feed: {} } : {}) },
    { id: 'holder', kind: 'device', part: by === 'fusePart' ? 'glass' : 'holder' },
    { id: 'lamp', kind: 'device' },
  ];
  return contextOf({
    parts,
    fits:
      by === 'listedAndTaken'
        ? [{ from: 'holder', relation: 'takes', to: 'glass', status: 'confirmed' }]
        : [],
    loom: {
      points,
      parts: listed.map((part) => ({ part, quantity: 1 })),
      wires: [
        pvc('feed', 44, {
          from: { point: 'battery', join: 'crimp' },
          to: at(first),
          ...named,
          ...(by === 'feed' ? { fuse } : {}),
        }),
        pvc('out', thin, {
          from: at(second),
          to: { point: 'lamp', join: 'crimp' },
          ...named,
          ...(by === 'outgoing' ? { fuse } : {}),
        }),
      ],
    },
  });
}

const entries: fc.Arbitrary<Entry> = fc.record({
  by: fc.constantFrom('fusePart', 'holderPart', 'listed', 'listedAndTaken', 'feed', 'outgoing'),
  ways: fc.constantFrom('named', 'inOut', 'none'),
  circuit: fc.boolean(),
  feedStated: fc.boolean(),
});

describe('a fuse between the battery and a lamp', () => {
  // 14/0.30 bears 8.75 A (rydertowing.co.uk, cable table); a fuse that blows at 35 A carries about half of it, 17.5 A, for
  // good (common practice, no source). 17.5 is more than 8.75, and less than the 25.5 A of the 44/0.30 before it.
  test('is held against the same wire, however it is entered', () => {
    fc.assert(
      fc.property(entries, (entry) => {
        const [finding, ...others] = checkFuses(lamp(entry, { ratingAmps: 35, basis: 'blow' }));
        expect(others).toEqual([]);
        expect(finding).toMatchObject({
          code: 'fuse-too-big',
          severity: 'stop',
          subject: 'wire:out',
          limit: 'at most 8.75 A continuously',
        });
        expect(finding?.found).toContain('35 A blow rating, about 17.5 A continuously');
      }),
    );
  });

  test('is silent, however it is entered, where the wire behind it bears it', () => {
    fc.assert(
      fc.property(entries, (entry) => {
        expect(checkFuses(lamp(entry, { ratingAmps: 17.5, basis: 'blow' }))).toEqual([]);
        expect(checkFuses(lamp(entry, { ratingAmps: 8.75, basis: 'continuous' }))).toEqual([]);
        expect(inShort(checkFuses(lamp(entry, { ratingAmps: 8.8, basis: 'continuous' })))).toEqual([
          'fuse-too-big wire:out',
        ]);
      }),
    );
  });

  test('says of a fuse marked by blowing that the half is old practice and guards against a short alone', () => {
    const of = (basis: Fuse['basis']) =>
      checkFuses(
        lamp({ by: 'outgoing', ways: 'inOut', circuit: false, feedStated: true }, { ratingAmps: 35, basis }),
      )[0]?.source;
    expect(of('blow')).toContain('old trade practice, not a published rule');
    expect(of('blow')).toContain('against a short circuit, not against an overload');
    expect(of('blow')).not.toContain('43.13');
    expect(of('continuous')).toContain('FAA AC 43.13-1B, 11-48');
  });
});

describe('one fuse before three wires', () => {
  // On paper: behind the holder the current goes over 28/0.30 (17.5 A) to a joint, from there over 21/0.30 (12.75 A) to one
  // lamp and over 14/0.30 (8.75 A) to another (rydertowing.co.uk, cable table). The smallest of the three is 14/0.30. A
  // fuse that blows at 20 A carries about 10 A for good: more than 8.75, so it is too big. One that blows at 15 A carries
  // 7.5 A: less, so all three bear it. Before the fuse is 14/0.30 too: that is no wire of this fuse.
  const three = (fuse: Fuse, feed: Partial<Point> = { feed: {} }) =>
    checkFuses(
      contextOf({
        parts: [fusePart(fuse)],
        loom: {
          points: [
            { id: 'battery', kind: 'stud', ...feed },
            { id: 'holder', kind: 'device', part: 'glass' },
            { id: 'joint', kind: 'joint' },
            { id: 'left', kind: 'device' },
            { id: 'right', kind: 'device' },
          ],
          wires: [
            pvc('0', 14, {
              from: { point: 'battery', join: 'crimp' },
              to: { point: 'holder', join: 'crimp' },
            }),
            pvc('1', 28, { from: { point: 'holder', join: 'crimp' }, to: { point: 'joint', join: 'joint' } }),
            pvc('2', 21, { from: { point: 'joint', join: 'joint' }, to: { point: 'left', join: 'crimp' } }),
            pvc('3', 14, { from: { point: 'joint', join: 'joint' }, to: { point: 'right', join: 'crimp' } }),
          ],
        },
      }),
    );

  test('is held against the smallest of them', () => {
    const [finding, ...others] = three({ ratingAmps: 20, basis: 'blow' });
    expect(others).toEqual([]);
    expect(finding).toMatchObject({
      subject: 'wire:3',
      found:
        'a fuse of 20 A blow rating, about 10 A continuously (part glass, point holder) before wire 3, pvc 14/0.30, rated 8.75 A',
      limit: 'at most 8.75 A continuously',
    });
    expect(three({ ratingAmps: 15, basis: 'blow' })).toEqual([]);
  });

  test('is held against the wires of both sides where nothing says where the battery is', () => {
    expect(inShort(three({ ratingAmps: 20, basis: 'blow' }, {}))).toEqual(['fuse-too-big wire:0']);
  });
});

describe('a fuse box', () => {
  const end = (point: string, way?: string) => ({
    point,
    join: 'crimp' as const,
    ...(way === undefined ? {} : { way }),
  });
  const box = (pins: string[], fuses: Record<string, number>, feeds: string[]) =>
    checkFuses(
      contextOf({
        parts: [holderPart({ pins })],
        loom: {
          points: [
            { id: 'battery', kind: 'stud', feed: {} },
            { id: 'box', kind: 'device', part: 'holder' },
            ...pins.map((pin) => ({ id: `at-${pins.indexOf(pin)}`, kind: 'device' as const })),
          ],
          wires: pins.map((pin, index) =>
            pvc(`${index}`, feeds.includes(pin) ? 44 : 14, {
              from: feeds.includes(pin) ? { point: 'battery', join: 'joint' as const } : end(`at-${index}`),
              to: end('box', pin),
              ...(fuses[pin] === undefined
                ? {}
                : { fuse: { ratingAmps: fuses[pin], basis: 'continuous' as const } }),
            }),
          ),
        },
      }),
    );

  // 14/0.30 bears 8.75 A.
  test.each([
    ['the same number, with a letter', ['1', '2', '1a', '2a'], { '1': 15, '2': 5 }, ['1', '2'], 'wire:2'],
    [
      'in and out of one number',
      ['in1', 'in2', 'out1', 'out2'],
      { in2: 15, in1: 5 },
      ['in1', 'in2'],
      'wire:3',
    ],
    ['pins stated two by two', ['A', 'B', 'C', 'D'], { D: 15, B: 5 }, ['A', 'C'], 'wire:3'],
    ['one feed for all', ['30', 'F1', 'F2', 'F3'], { F1: 5, F2: 15, F3: 5 }, ['30'], 'wire:2'],
  ])('pairs its ways by %s', (_, pins, fuses, feeds, subject) => {
    expect(inShort(box(pins, fuses, feeds))).toEqual([`fuse-too-big ${subject}`]);
  });
});

test('a fuse goes on guarding behind a switch, a relay’s contact and a flasher, and not behind a lamp', () => {
  const through = (deviceType: 'switch' | 'relay' | 'flasher' | 'lamp', pins: [string, string]) =>
    inShort(
      checkFuses(
        contextOf({
          parts: [
            fusePart({ ratingAmps: 15, basis: 'continuous' }),
            { kind: 'device', code: 'd', description: 'Device', deviceType, pins },
          ],
          loom: {
            points: [
              { id: 'battery', kind: 'stud', feed: {} },
              { id: 'holder', kind: 'device', part: 'glass' },
              { id: 'device', kind: 'device', part: 'd' },
              { id: 'end', kind: 'device' },
            ],
            wires: [
              pvc('1', 28, {
                from: { point: 'battery', join: 'crimp' },
                to: { point: 'holder', join: 'crimp' },
              }),
              pvc('2', 28, {
                from: { point: 'holder', join: 'crimp' },
                to: { point: 'device', join: 'crimp', way: pins[0] },
              }),
              pvc('3', 14, {
                from: { point: 'device', join: 'crimp', way: pins[1] },
                to: { point: 'end', join: 'crimp' },
              }),
            ],
          },
        }),
      ),
    );
  expect(through('switch', ['1', '2'])).toEqual(['fuse-too-big wire:3']);
  expect(through('relay', ['30', '87'])).toEqual(['fuse-too-big wire:3']);
  expect(through('flasher', ['49', '49a'])).toEqual(['fuse-too-big wire:3']);
  expect(through('lamp', ['1', '2'])).toEqual([]);
});

test('a fuse outside the loom guards what its feed brings in', () => {
  const plug = (ratingAmps: number) =>
    checkFuses(
      contextOf({
        loom: {
          points: [
            {
              id: 'plug',
              kind: 'connector',
              feed: { ways: ['1'], fuse: { ratingAmps, basis: 'continuous' } },
            },
            { id: 'lamp', kind: 'device' },
          ],
          wires: [
            pvc('1', 14, {
              from: { point: 'plug', join: 'bare', way: '1' },
              to: { point: 'lamp', join: 'crimp' },
            }),
            pvc('2', 9, {
              from: { point: 'plug', join: 'bare', way: '2' },
              to: { point: 'lamp', join: 'crimp' },
            }),
          ],
        },
      }),
    );
  expect(plug(8)).toEqual([]);
  expect(inShort(plug(10))).toEqual(['fuse-too-big wire:1']);
});

test('what goes through a fuse is the sum of what leaves it', () => {
  const out = (amps: number) =>
    checkFuses(
      contextOf({
        parts: [fusePart({ ratingAmps: 8, basis: 'continuous' })],
        loom: {
          points: [
            { id: 'battery', kind: 'stud', feed: {} },
            { id: 'holder', kind: 'device', part: 'glass', pins: ['in', 'out'] },
            { id: 'left', kind: 'device' },
            { id: 'right', kind: 'device' },
          ],
          wires: [
            pvc('1', 44, {
              from: { point: 'battery', join: 'crimp' },
              to: { point: 'holder', join: 'crimp', way: 'in' },
            }),
            ...['left', 'right'].map((point) =>
              pvc(point, 14, {
                amps,
                from: { point: 'holder', join: 'crimp', way: 'out' },
                to: { point, join: 'crimp' },
              }),
            ),
          ],
        },
      }),
    );
  expect(out(4)).toEqual([]);
  expect(inShort(out(4.1))).toEqual(['fuse-too-small wire:left']);
});
