import { describe, expect, test } from 'vitest';
import type { Size } from '../../../worker/engine/model/size.ts';
import { jobOf, mm2, wire } from '../fixtures.ts';
import { connector, foundIn, inTerminal, terminalOf, told, wireOf, type PartInput } from './told.ts';

const imperial = (strands: number): Size => ({ system: 'imperialStrands', strands, strandInch: 0.012 });

/** Wires of these sizes in one terminal for so much copper. */
const inBarrel = (range: { wireMinMm2?: number; wireMaxMm2?: number }, ...sizes: Size[]) =>
  jobOf({
    parts: [terminalOf('blade', range)],
    loom: {
      points: [
        { id: 'A', kind: 'device' },
        { id: 'Z', kind: 'flyingLead' },
      ],
      wires: sizes.map((size, index) =>
        wire(`W${index + 1}`, {
          size,
          from: { point: 'A', join: 'crimp', terminal: { part: 'blade' }, sharesTerminal: 'one' },
          to: { point: 'Z', join: 'bare' },
        }),
      ),
    },
  });

describe('the range of a terminal', () => {
  const of = (...given: Parameters<typeof inBarrel>) => told(inBarrel(...given), 'terminal-range');
  const found = ['terminal-range wire:W1:from'];

  test('holds what lies on its limits, and is told of what lies beyond', () => {
    expect(of({ wireMinMm2: 1, wireMaxMm2: 2.5 }, mm2(1))).toEqual([]);
    expect(of({ wireMinMm2: 1, wireMaxMm2: 2.5 }, mm2(2.5))).toEqual([]);
    expect(of({ wireMinMm2: 1, wireMaxMm2: 2.5 }, mm2(0.75))).toEqual(found);
    expect(of({ wireMinMm2: 1, wireMaxMm2: 2.5 }, mm2(2.51))).toEqual(found);
    expect(of({ wireMinMm2: 1 }, mm2(0.5))).toEqual(found);
    expect(of({ wireMaxMm2: 1 }, mm2(1.5))).toEqual(found);
  });

  test('is that of all wires in one terminal together', () => {
    const range = { wireMinMm2: 2.5, wireMaxMm2: 4 };
    expect(of(range, mm2(1), mm2(1.5))).toEqual([]);
    expect(of(range, mm2(1), mm2(1.5), mm2(1.5))).toEqual([]);
    expect(of(range, mm2(1))).toEqual(found);
    expect(of(range, mm2(1), mm2(1.5), mm2(1.51))).toEqual(found);
    // Decimals are summed exactly: in floating point 0.1 + 0.2 lies above 0.3.
    expect(of({ wireMaxMm2: 0.3 }, mm2(0.1), mm2(0.2))).toEqual([]);
  });

  test('goes by the area that the trade calls a size by, and says so', () => {
    expect(of({ wireMaxMm2: 1 }, imperial(14))).toEqual([]);
    expect(of({ wireMaxMm2: 2 }, imperial(14), imperial(14))).toEqual([]);
    const [finding] = foundIn(inBarrel({ wireMinMm2: 2.5, wireMaxMm2: 6 }, imperial(28)), 'terminal-range');
    expect(finding).toMatchObject({
      severity: 'stop',
      found: '28/.012, called 2 mm², in blade (Terminal blade)',
      limit: '2.5 to 6 mm²',
    });
  });

  test('goes by the copper of a size that the trade has no name for', () => {
    const awg18: Size = { system: 'awg', gauge: '18' };
    // 18 AWG holds 0.823 mm²: ASTM B258.
    expect(of({ wireMaxMm2: 0.83 }, awg18)).toEqual([]);
    expect(foundIn(inBarrel({ wireMaxMm2: 0.8 }, awg18), 'terminal-range')[0]?.found).toContain(
      'AWG 18, 0.823 mm² of copper',
    );
  });

  test('is not told of where it is not stated, or the copper of a wire is not known', () => {
    expect(of({}, mm2(100))).toEqual([]);
    expect(of({ wireMaxMm2: 1 }, { system: 'sae', gauge: '29' })).toEqual([]);
    expect(of({ wireMaxMm2: 1 }, mm2(0.5), { system: 'sae', gauge: '29' })).toEqual([]);
  });
});

describe('the grip on the insulation', () => {
  const grip = (outsideMm: number, limits: object, ends: object[] = [inTerminal('t')]) =>
    told(connector([wireOf(outsideMm), terminalOf('t', limits)], ends), 'insulation-grip');
  const found = ['insulation-grip wire:W1:from'];

  test('holds what lies on its limits, and is told of what lies beyond', () => {
    const limits = { insulationMinMm: 1.8, insulationMaxMm: 2.4 };
    expect(grip(1.8, limits)).toEqual([]);
    expect(grip(2.4, limits)).toEqual([]);
    expect(grip(1.79, limits)).toEqual(found);
    expect(grip(2.41, limits)).toEqual(found);
    expect(grip(9, {})).toEqual([]);
  });

  test('closes on the least circle around the wires that share the terminal', () => {
    const two = [inTerminal('t', { sharesTerminal: 'x' }), { sharesTerminal: 'x' }];
    // Two circles lie in one of their summed diameters.
    expect(grip(2.1, { insulationMaxMm: 4.2 }, two)).toEqual([]);
    expect(grip(2.1, { insulationMaxMm: 4.1 }, two)).toEqual(found);
    // Three in one of 2.1547 times theirs: Birgin and Gentil 2010, table 1.
    const three = [...two, { sharesTerminal: 'x' }];
    expect(grip(2, { insulationMaxMm: 4.31 }, three)).toEqual([]);
    expect(grip(2, { insulationMaxMm: 4.3 }, three)).toEqual(found);
  });

  test('is not told of at a soldered end', () => {
    const solder = [inTerminal('t', { join: 'solder' })];
    expect(grip(9, { insulationMaxMm: 2.4 }, solder)).toEqual([]);
  });
});

describe('the join of a terminal', () => {
  const join = (made: 'crimp' | 'solder' | 'either', end: 'crimp' | 'solder' | 'joint' | 'bare') =>
    told(connector([terminalOf('t', { join: made })], [inTerminal('t', { join: end })]), 'join-differs');

  test('is told where the end is joined in another way', () => {
    expect(join('crimp', 'solder')).toEqual(['join-differs wire:W1:from']);
    expect(join('solder', 'crimp')).toEqual(['join-differs wire:W1:from']);
    expect(join('either', 'bare')).toEqual(['join-differs wire:W1:from']);
  });

  test('is not told where they agree, or the end is in a joint', () => {
    expect(join('crimp', 'crimp')).toEqual([]);
    expect(join('either', 'solder')).toEqual([]);
    expect(join('either', 'crimp')).toEqual([]);
    expect(join('solder', 'joint')).toEqual([]);
  });
});

describe('a wire that somebody tried in the terminal, and it did not fit,', () => {
  const of = (parts: PartInput[], ...refuted: string[]) =>
    foundIn(
      connector(
        [terminalOf('t'), ...parts],
        [inTerminal('t')],
        {},
        {
          fits: refuted.map((to) => ({
            from: 't',
            relation: 'takes' as const,
            to,
            status: 'refuted' as const,
          })),
        },
      ),
      'fit-refuted',
    );
  const red = wireOf(2);
  const otherRed: PartInput = { ...red, code: 'other-red' };

  test('is stopped where it is the only one to buy, and a warning where there are others', () => {
    expect(of([red], 'red')).toMatchObject([
      { severity: 'stop', subject: 'wire:W1:from', at: '/looms/0/wires/0/from/terminal/part' },
    ]);
    expect(of([red, otherRed], 'red')).toMatchObject([{ severity: 'warning' }]);
    expect(of([red, otherRed], 'red', 'other-red')).toMatchObject([{ severity: 'stop' }]);
  });

  test('is not told of another wire', () => {
    expect(
      of([red, { ...wireOf(2), code: 'black', colour: { base: 'black' } } as PartInput], 'black'),
    ).toEqual([]);
    expect(of([red])).toEqual([]);
  });
});
