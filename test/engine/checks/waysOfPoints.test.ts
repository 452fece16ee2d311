import { describe, expect, test } from 'vitest';
import { connector, foundIn, housingOf, inTerminal, terminalOf, told } from './told.ts';

const t = terminalOf('t');
const device = { kind: 'device' as const };
const inWay = (way: string, more: object = {}) => inTerminal('t', { way, ...more });

describe('more ways than there are', () => {
  const of = (ends: object[], point: object, ways = 2) =>
    foundIn(connector([t, housingOf('h', { ways })], ends, point), 'ways-exceeded');

  test('are told of the housing, or of the count that the loom states; the lesser one holds', () => {
    const three = [inWay('1'), inWay('2'), inWay('3')];
    expect(of(three, { part: 'h' })).toMatchObject([
      { severity: 'stop', subject: 'point:A', found: '3 ways used', limit: '2 ways' },
    ]);
    expect(of(three, { part: 'h' }, 3)).toEqual([]);
    expect(of(three, { ways: 2 })).toHaveLength(1);
    expect(of(three, { ways: 3 })).toEqual([]);
    expect(of(three, { part: 'h', ways: 2 }, 3)).toHaveLength(1);
    expect(of(three, {})).toEqual([]);
  });

  test('are counted with the ends that name none, and once for a terminal that ends share', () => {
    expect(of([inWay('1'), inTerminal('t'), inTerminal('t')], { part: 'h' })).toMatchObject([
      { found: '3 ways used, 2 of them by ends that name none' },
    ]);
    const shared = [inWay('1', { sharesTerminal: 'x' }), { sharesTerminal: 'x' }, inTerminal('t')];
    expect(of(shared, { part: 'h' })).toEqual([]);
  });

  test('of a device are those that are named: what has no name there may hang on any', () => {
    expect(of([inWay('1'), inTerminal('t'), inTerminal('t')], { ...device, ways: 2 })).toEqual([]);
    expect(of([inWay('1'), inWay('2'), inWay('3')], { ...device, ways: 2 })).toHaveLength(1);
  });
});

describe('two terminals in one way', () => {
  const of = (ends: object[], point: object = {}) => told(connector([t], ends, point), 'way-taken-twice');

  test('of a connector are told', () => {
    expect(of([inWay('1'), inWay('1')])).toEqual(['way-taken-twice point:A:way:1']);
    expect(of([inWay('1'), { way: '1' }])).toEqual(['way-taken-twice point:A:way:1']);
    expect(of([inWay('1'), inWay('2')])).toEqual([]);
  });

  test('are one where the ends share it', () => {
    expect(of([inWay('1', { sharesTerminal: 'x' }), { way: '1', sharesTerminal: 'x' }])).toEqual([]);
    expect(of([inWay('1', { sharesTerminal: 'x' }), inWay('1', { sharesTerminal: 'y' })])).toHaveLength(1);
  });

  test('are in order at a device, where they are stacked, and bare ends under one screw', () => {
    expect(of([inWay('1'), inWay('1')], device)).toEqual([]);
    expect(
      of([
        { way: '1', join: 'bare' },
        { way: '1', join: 'bare' },
      ]),
    ).toEqual([]);
  });
});

test('a way taken twice is shown at the end that states it, where another one names the shared terminal', () => {
  const job = connector(
    [t],
    [inTerminal('t', { sharesTerminal: 'x' }), { sharesTerminal: 'x', way: '1' }, inWay('1')],
  );
  expect(foundIn(job, 'way-taken-twice')).toMatchObject([{ at: '/looms/0/wires/1/from/way' }]);
});

describe('a way that the point does not have', () => {
  const lamp = { kind: 'device' as const, code: 'lamp', description: 'Lamp', deviceType: 'lamp' as const };
  const of = (ways: string[], point: object, pins?: string[]) =>
    told(
      connector(
        [t, { ...lamp, ...(pins ? { pins } : {}) }],
        ways.map((way) => inWay(way)),
        point,
      ),
      'way-unknown',
    );

  test('is told once, by the pins of the point or else of the device', () => {
    expect(of(['58', '57', '57'], { ...device, part: 'lamp' }, ['58', '31'])).toEqual([
      'way-unknown point:A:way:57',
    ]);
    expect(of(['58'], { ...device, part: 'lamp' }, ['58', '31'])).toEqual([]);
    expect(of(['58'], { ...device, part: 'lamp', pins: ['57'] }, ['58'])).toEqual([
      'way-unknown point:A:way:58',
    ]);
    expect(of(['57'], { ...device, part: 'lamp', pins: ['57'] }, ['58'])).toEqual([]);
  });

  test('is not told where no pins are stated', () => {
    expect(of(['58'], { ...device, part: 'lamp' })).toEqual([]);
    expect(of(['58'], { pins: [] })).toEqual([]);
  });
});
