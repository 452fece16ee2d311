import { describe, expect, test } from 'vitest';
import { byTheMetre, jobOf, mm2, supplier, wire } from '../fixtures.ts';
import { foundIn, told, type PartInput, type PointInput, type WireInput } from './told.ts';

type Colour = WireInput['colour'];

const red: Colour = { base: 'red' };
const green: Colour = { base: 'green' };
const greenYellow: Colour = { base: 'green', tracer: 'yellow' };

/** Wires from A, each to a lead of its own. */
const at = (wires: Partial<WireInput>[], point: Partial<PointInput> = {}, parts: PartInput[] = []) =>
  jobOf({
    parts,
    loom: {
      points: [
        { id: 'A', kind: 'connector', ...point },
        ...wires.map((_, index) => ({ id: `Z${index + 1}`, kind: 'flyingLead' as const })),
      ],
      wires: wires.map((given, index) =>
        wire(`W${index + 1}`, { to: { point: `Z${index + 1}`, join: 'bare' }, ...given }),
      ),
    },
  });
const code = 'colour-on-two-circuits';

describe('one colour on two circuits at a point', () => {
  test('is told once a colour, at a connector and at a device', () => {
    const job = at([{ colour: red }, { colour: red }, { colour: red }, { colour: green }]);
    expect(foundIn(job)).toMatchObject([
      {
        code,
        severity: 'warning',
        subject: 'point:A:colour:red',
        found: 'red on 3 circuits at point A: wires W1, W2, W3',
      },
    ]);
    expect(told(at([{ colour: red }, { colour: red }, {}], { kind: 'device' }), code)).toHaveLength(1);
  });

  test('is another colour where the tracer differs', () => {
    expect(told(at([{ colour: green }, { colour: greenYellow }]), code)).toEqual([]);
    expect(told(at([{ colour: greenYellow }, { colour: greenYellow }]), code)).toEqual([
      `${code} point:A:colour:green+yellow`,
    ]);
  });

  test('is in order where the wires are joined, there or elsewhere', () => {
    const shared = { point: 'A', join: 'crimp' as const, sharesTerminal: 'x' };
    expect(told(at([{ from: shared }, { from: shared }]), code)).toEqual([]);
    expect(told(at([{}, {}], { kind: 'stud' }), code)).toEqual([]);
    expect(told(at([{}, {}], { kind: 'flyingLead' }), code)).toEqual([]);
    const elsewhere = at([{ to: { point: 'Z1', join: 'joint' } }, { to: { point: 'Z1', join: 'joint' } }]);
    expect(told(elsewhere, code)).toEqual([]);
  });

  test('is in order where the loom names both wires as one circuit', () => {
    expect(told(at([{ circuit: 'side lamps' }, { circuit: 'side lamps' }]), code)).toEqual([]);
    expect(told(at([{ circuit: 'side lamps' }, { circuit: 'stop lamps' }]), code)).toHaveLength(1);
    expect(told(at([{ circuit: 'side lamps' }, {}]), code)).toHaveLength(1);
  });

  test('does not matter at a fuse or switch of two wires, which work either way round', () => {
    const device = (deviceType: 'fuseHolder' | 'switch' | 'diode', wires: number) => {
      const part: PartInput = { kind: 'device', code: 'd', description: 'Device', deviceType };
      return told(
        at(
          Array.from({ length: wires }, () => ({})),
          { kind: 'device', part: 'd' },
          [part],
        ),
        code,
      );
    };
    expect(device('fuseHolder', 2)).toEqual([]);
    expect(device('switch', 2)).toEqual([]);
    expect(device('fuseHolder', 3)).toHaveLength(1);
    expect(device('diode', 2)).toHaveLength(1);
  });
});

describe('a substitute', () => {
  const plain: PartInput = {
    kind: 'wire',
    code: 'plain-green',
    description: 'Plain green wire',
    cableType: 'thin-wall',
    size: mm2(1),
    colour: { base: 'green' },
    outsideDiameterMm: 2.1,
  };
  const traced: PartInput = {
    kind: 'wire',
    code: 'traced',
    description: 'Wire with its tracer',
    cableType: 'thin-wall',
    size: mm2(1),
    colour: { base: 'green', tracer: 'yellow' },
  };
  const sleeve: PartInput = {
    kind: 'sleeve',
    code: 'yellow-sleeve',
    description: 'Yellow sleeve',
    sleeveType: 'pvc',
    shade: 'yellow',
    boreMm: 2.5,
  };
  const substitute: Partial<WireInput> = { colour: greenYellow, colourRule: 'plainBaseWithTracerSleeve' };
  const beside = (
    other: Partial<WireInput>,
    offered: PartInput[] = [plain, sleeve],
    own: Partial<WireInput> = {},
  ) =>
    foundIn(
      {
        ...jobOf({
          parts: offered,
          suppliers: [supplier('s')],
          offers: offered.map(({ code: part }) => byTheMetre(`o-${part}`, 's', part, '1')),
          loom: { points: [{ id: 'A', kind: 'connector' }] },
        }),
        looms: at([{ ...substitute, ...own }, other]).looms,
      },
      'substitute-matches-neighbour',
    );

  test('that is bought plain beside a plain wire of another circuit is told', () => {
    expect(beside({ colour: green })).toMatchObject([
      { severity: 'warning', subject: 'point:A:colour:green', at: '/looms/0/wires/0/colourRule' },
    ]);
    // Another one that is bought plain is as plain.
    expect(beside({ ...substitute, colour: { base: 'green', tracer: 'yellow' } })).toHaveLength(1);
  });

  test('is in order beside another shade, a tracer that is bought, or its own circuit', () => {
    expect(beside({ colour: red })).toEqual([]);
    expect(beside({ colour: { base: 'green', tracer: 'red' } })).toEqual([]);
    const joined: Partial<WireInput> = { to: { point: 'Z1', join: 'joint' } };
    expect(beside({ colour: green, ...joined }, [plain, sleeve], joined)).toEqual([]);
    expect(beside({ colour: green, ...joined })).toHaveLength(1);
  });

  test('is none where somebody sells the wire with its tracer', () => {
    expect(beside({ colour: green }, [plain, sleeve, traced])).toEqual([]);
  });
});
