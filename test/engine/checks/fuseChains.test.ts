import { describe, expect, test } from 'vitest';
import { jobOf, wire } from '../fixtures.ts';
import { told, type EndInput, type PartInput, type PointInput, type WireInput } from './told.ts';

type Fuse = NonNullable<WireInput['fuse']>;

const amps = (ratingAmps: number): Fuse => ({ ratingAmps, basis: 'continuous' });
const holder = (code: string, ...pins: string[]): PartInput => ({
  kind: 'device',
  code,
  description: code,
  deviceType: 'fuseHolder',
  pins,
});
const PARTS: PartInput[] = [
  holder('line', 'in', 'out'),
  holder('box', 'in', '1', '2'),
  { kind: 'joiner', code: 'sleeve', description: 'Sleeve', joinerType: 'sleeve', positions: 2 },
  { kind: 'joiner', code: 'rows', description: 'Block of two rows', joinerType: 'block', positions: 4 },
];

const at = (point: string, way?: string): EndInput => ({ point, join: 'bare', ...(way ? { way } : {}) });

/** Metric vehicle cable: 14/0.30 is rated 8.75 A, 44/0.30 is rated 25.5 A (the British trade's table). */
const run = (id: string, from: EndInput, to: EndInput, strands: 14 | 44, more: Partial<WireInput> = {}) =>
  wire(id, {
    cableType: 'pvc-vehicle',
    size: { system: 'metricStrands', strands, strandMm: 0.3 },
    from,
    to,
    ...more,
  });

const found = (points: PointInput[], wires: WireInput[]) =>
  told(
    jobOf({ parts: PARTS, loom: { points, wires } }),
    ...[
      'fuse-too-big',
      'fuse-differs',
      'fuse-not-stated',
      'fuse-not-paired',
      'fuse-without-holder',
      'feed-at-no-wire',
    ],
  );

const BATTERY: PointInput = { id: 'battery', kind: 'stud', feed: {} };
const LAMP: PointInput = { id: 'lamp', kind: 'device', pins: ['1', '31'] };
const lineFuse = (id: string): PointInput => ({ id, kind: 'device', part: 'line' });

describe('two fuses in a row', () => {
  const chain = (main: WireInput['fuse'], own: WireInput['fuse']) =>
    found(
      [BATTERY, lineFuse('main'), lineFuse('own'), LAMP],
      [
        run('F', at('battery'), at('main', 'in'), 44),
        run('M', at('main', 'out'), at('own', 'in'), 44, main ? { fuse: main } : {}),
        run('L', at('own', 'out'), at('lamp', '1'), 14, own ? { fuse: own } : {}),
      ],
    );

  // 20 A before 25.5 A, and 8 A before 8.75 A: nothing is wrong.
  test('the main one stated on the wire between the holders is that of the holder which the wire leaves', () => {
    expect(chain(amps(20), amps(8))).toEqual([]);
  });

  test('and the thin wire behind the second is held against the second', () => {
    expect(chain(amps(20), amps(10))).toEqual(['fuse-too-big wire:L']);
  });
});

describe('a fuse of 20 A is held against the thin wire behind', () => {
  const through = (joint: PointInput, ways: [string?, string?]) =>
    found(
      [BATTERY, lineFuse('main'), joint, LAMP],
      [
        run('F', at('battery'), at('main', 'in'), 44),
        run('M', at('main', 'out'), at(joint.id, ways[0]), 44, { fuse: amps(20) }),
        run('L', at(joint.id, ways[1]), at('lamp', '1'), 14),
      ],
    );
  const joiner = (part: string): PointInput => ({ id: 'joint', kind: 'joiner', part });

  test('a sleeve, whatever its two ends are called', () => {
    expect(through(joiner('sleeve'), [])).toEqual(['fuse-too-big wire:L']);
    expect(through(joiner('sleeve'), ['1', '2'])).toEqual(['fuse-too-big wire:L']);
  });

  test('a block of two rows only where they are in one row', () => {
    expect(through(joiner('rows'), ['1', '1'])).toEqual(['fuse-too-big wire:L']);
    expect(through(joiner('rows'), ['1', '2'])).toEqual([]);
  });

  test('halves of one wire each that are plugged together, without a way named', () => {
    const halves = (more: WireInput[]) =>
      found(
        [
          BATTERY,
          lineFuse('main'),
          { id: 'plug', kind: 'connector', matedTo: { point: 'socket' } },
          { id: 'socket', kind: 'connector' },
          LAMP,
        ],
        [
          run('F', at('battery'), at('main', 'in'), 44),
          run('M', at('main', 'out'), at('plug'), 44, { fuse: amps(20) }),
          run('L', at('socket'), at('lamp', '1'), 14),
          ...more,
        ],
      );
    expect(halves([])).toEqual(['fuse-too-big wire:L']);
    // Of two wires nothing says which meets which.
    expect(halves([run('L2', at('socket'), at('lamp', '31'), 14)])).toEqual([]);
  });

  test('a fuse box entered as a connector, stated on the feed or on what leaves it', () => {
    const box: PointInput = { id: 'fuses', kind: 'connector', label: 'Fuse box' };
    const boxed = (feed: Partial<WireInput>, out: Partial<WireInput>) =>
      found(
        [BATTERY, box, LAMP],
        [
          run('F', at('battery'), at('fuses', 'in'), 44, feed),
          run('L', at('fuses', 'out'), at('lamp', '1'), 14, out),
        ],
      );
    expect(boxed({ fuse: amps(20) }, {})).toEqual(['fuse-too-big wire:L']);
    expect(boxed({}, { fuse: amps(20) })).toEqual(['fuse-too-big wire:L']);
  });
});

test('a spare way of a fuse box needs no fuse', () => {
  const points: PointInput[] = [BATTERY, { id: 'fuses', kind: 'device', part: 'box' }, LAMP];
  const feed = run('F', at('battery'), at('fuses', 'in'), 44);
  const lamp = run('L', at('fuses', '1'), at('lamp', '1'), 14, { fuse: amps(8) });
  expect(found(points, [feed, lamp])).toEqual([]);
  expect(found(points, [feed, lamp, run('X', at('fuses', '2'), at('lamp', '31'), 14)])).toEqual([
    'fuse-not-stated point:fuses',
  ]);
});

test('the thin earth behind the lamp, though it bears the name of the circuit, is not what the fuse guards', () => {
  const circuit = 'lamps';
  const wires = (end: PointInput, way: string) =>
    found(
      [BATTERY, lineFuse('main'), LAMP, end],
      [
        run('F', at('battery'), at('main', 'in'), 44),
        run('L', at('main', 'out'), at('lamp', '1'), 44, { fuse: amps(20), circuit }),
        run('E', at('lamp', way), at(end.id), 14, { circuit }),
      ],
    );
  expect(wires({ id: 'earth', kind: 'stud', label: 'Earth' }, '2')).toEqual([]);
  expect(wires({ id: 'plug', kind: 'connector' }, '31')).toEqual([]);
  // What goes on as the same circuit is guarded by nothing else.
  expect(wires({ id: 'plug', kind: 'connector' }, '2')).toEqual(['fuse-too-big wire:E']);
});

test('a feed at a way in which no wire is says so', () => {
  const points: PointInput[] = [
    { id: 'plug', kind: 'connector', feed: { ways: ['1'], fuse: amps(20) } },
    LAMP,
  ];
  expect(found(points, [run('L', at('plug', '1'), at('lamp', '1'), 44)])).toEqual([]);
  expect(found(points, [run('L', at('plug', '2'), at('lamp', '1'), 44)])).toEqual([
    'feed-at-no-wire point:plug',
  ]);
  expect(found(points, [run('L', at('plug'), at('lamp', '1'), 44)])).toEqual(['feed-at-no-wire point:plug']);
});
