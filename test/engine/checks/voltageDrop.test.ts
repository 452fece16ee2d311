import { describe, expect, test } from 'vitest';
import { checkVoltageDrop } from '../../../worker/engine/loom/checks/voltageDrop.ts';
import { bare, points, wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Wire = ReturnType<typeof wire>;

/** 14/0.30: 0.0189 Ω/m cold (rydertowing.co.uk, cable table), so that 1 m at 5 A loses 94.5 mV. */
const pvc = (id: string, more: Partial<Wire> = {}) =>
  wire(id, { cableType: 'pvc', size: { system: 'mm2', areaMm2: 1 }, amps: 5, ...more });
const long = (mm: number) => ({ length: { mm, basis: 'route' as const } });

/** Cold, no joints, no way back, and 1 % of 10 V, which is 100 mV, unless told otherwise. */
const check = (wires: Wire[], settings: object = {}, loom: object = {}) =>
  checkVoltageDrop(
    contextOf({
      loom: {
        systemVoltage: 10,
        points: [...points('A', 'B', 'C', 'D'), { id: 'J', kind: 'joint' }, { id: 'K', kind: 'joiner' }],
        wires,
        settings: {
          workingTemperatureC: 20,
          voltageDropPercent: 1,
          jointMillivolts: 0,
          returnMillivolts: 0,
          ...settings,
        },
        ...loom,
      },
    }),
  );
const joint = (point: string) => ({ point, join: 'joint' as const });
const crimp = (point: string) => ({ point, join: 'crimp' as const });

describe('what one wire loses', () => {
  test('is amps × resistance × length: 94.5 mV pass a limit of 100 mV, 1.06 m of it does not', () => {
    expect(check([pvc('1')])).toEqual([]);
    expect(check([pvc('1', long(1058))])).toEqual([]);
    expect(inShort(check([pvc('1', long(1059))]))).toEqual(['voltage-drop circuit:l/1']);
  });

  test('grows with the temperature: 1.0786 times at 40 °C', () => {
    expect(inShort(check([pvc('1')], { workingTemperatureC: 40 }))).toEqual(['voltage-drop circuit:l/1']);
    expect(check([pvc('1', long(980))], { workingTemperatureC: 40 })).toEqual([]);
  });

  test('has the way back through the body added, or counts twice with an insulated return', () => {
    expect(check([pvc('1')], { returnMillivolts: 5.5 })).toEqual([]);
    expect(check([pvc('1')], { returnMillivolts: 5.6 })).toHaveLength(1);
    const insulated = { earth: 'insulatedReturn' };
    expect(check([pvc('1', long(529))], { returnMillivolts: 50 }, insulated)).toEqual([]);
    expect(check([pvc('1', long(530))], {}, insulated)).toHaveLength(1);
  });

  test('counts each crimped or soldered end, and no bare one', () => {
    const ends = { from: crimp('A'), to: { ...crimp('B'), join: 'solder' as const } };
    expect(check([pvc('1', ends)], { jointMillivolts: 2.7 })).toEqual([]);
    expect(check([pvc('1', ends)], { jointMillivolts: 2.8 })).toHaveLength(1);
    expect(check([pvc('1', { ...ends, from: bare('A') })], { jointMillivolts: 5.4 })).toEqual([]);
  });

  test('is reckoned along its way where that is longer than what is stated, and nothing where neither is', () => {
    const branches = [{ id: 'b', from: 'A', to: 'B', lengthMm: 1100 }];
    expect(check([pvc('1')], {}, { branches })).toHaveLength(1);
    const { length: _, ...unmeasured } = pvc('1');
    expect(check([unmeasured], {}, { branches })).toHaveLength(1);
    expect(check([{ ...unmeasured, amps: 500 }])).toEqual([]);
  });

  test('is left out of resistor wires, which are meant to lose it', () => {
    expect(check([pvc('1', { amps: 50, function: { targetOhm: 1.5 } })])).toEqual([]);
  });
});

describe('through a circuit', () => {
  const feed = (more: Partial<Wire> = {}) => pvc('1', { to: joint('J'), ...more });
  const leg = (id: string, point: string, more: Partial<Wire> = {}) =>
    pvc(id, { from: joint('J'), to: bare(point), ...more });

  test('the losses of its wires add up along the way', () => {
    const [finding, ...others] = check([feed(long(600)), leg('2', 'C', long(600))]);
    expect(others).toEqual([]);
    expect(finding).toMatchObject({
      code: 'voltage-drop',
      severity: 'warning',
      subject: 'circuit:l/1',
      found: '0.11 V lost over 1, 2 at 20 °C: wires 0.11 V + joints 0.00 V',
      limit: '0.10 V: 1 % of 10 V',
    });
    expect(finding?.source).toContain('no published limit for road vehicles is known');
    expect(check([feed(long(500)), leg('2', 'C', long(500))])).toEqual([]);
  });

  test('a joint or joiner that it passes counts once', () => {
    const through = (jointMillivolts: number) =>
      check([feed(long(500)), leg('2', 'C', long(500))], { jointMillivolts });
    expect(through(5.5)).toEqual([]);
    expect(through(5.6)).toHaveLength(1);
    const overJoiner = (jointMillivolts: number) =>
      check([pvc('1', { to: crimp('K'), ...long(500) }), pvc('2', { from: crimp('K'), ...long(500) })], {
        jointMillivolts,
      });
    // Two bullets and the joiner between them: 3 × 1.83 + 94.5 = 100.
    expect(overJoiner(1.83)).toEqual([]);
    expect(overJoiner(1.84)).toHaveLength(1);
  });

  test('no current runs from one lamp to the next, so their legs do not add up', () => {
    const lamps = [feed({ amps: 10, ...long(1) }), leg('2', 'C', long(1000)), leg('3', 'D', long(1000))];
    expect(check(lamps)).toEqual([]);
    expect(inShort(check([feed({ amps: 10, ...long(100) }), ...lamps.slice(1)]))).toEqual([
      'voltage-drop circuit:l/1',
    ]);
  });

  test('with a loop each wire is judged by itself, and the finding says so', () => {
    const doubled = ['1', '2', '3'].map((id) =>
      pvc(id, {
        from: joint('J'),
        to: { point: 'B', join: 'bare', way: '1' },
        ...long(id === '3' ? 1100 : 900),
      }),
    );
    const found = check(doubled);
    expect(inShort(found)).toEqual(['voltage-drop wire:3']);
    expect(found[0]?.found).toContain('its circuit has a loop');
  });

  test('what is not known is left out and named; what is known may be too much by itself', () => {
    const found = check([feed(long(1100)), leg('2', 'C', { cableType: 'unheard-of' })]);
    expect(inShort(found)).toEqual(['voltage-drop circuit:l/1', 'resistance-unknown wire:2']);
    expect(found[0]?.found).toContain('the loss in 2 is not known and not included');
  });
});

test('an unknown resistance is noted once a cable type and size, and only of wires with amps', () => {
  const odd = (id: string, amps?: number) => {
    const { amps: _, ...rest } = pvc(id, { cableType: 'unheard-of' });
    return amps === undefined ? rest : { ...rest, amps };
  };
  expect(check([odd('1')])).toEqual([]);
  expect(inShort(check([odd('1'), odd('2', 5), odd('3', 6)]))).toEqual(['resistance-unknown wire:2']);
});
