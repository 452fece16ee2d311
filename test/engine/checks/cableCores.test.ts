import { describe, expect, test } from 'vitest';
import { checkCableCores } from '../../../worker/engine/loom/checks/cableCores.ts';
import type { Shade } from '../../../worker/engine/model/colour.ts';
import type { Size } from '../../../worker/engine/model/size.ts';
import { bought, byTheMetre, jobOf, mm2, points, priced, supplier, wire } from '../fixtures.ts';
import { contextOf } from './contexts.ts';

type WireInput = Parameters<typeof wire>[1];

const core = (base: Shade, size: Size) => ({ size, colour: { base } });
const cable = (code: string, cores: ReturnType<typeof core>[], more: object = {}) => ({
  kind: 'cable' as const,
  code,
  description: code,
  cableType: 'pvc',
  cores,
  ...more,
});
const inCable = (id: string, base: Shade, size: Size, more: WireInput = {}) =>
  wire(id, { size, colour: { base }, inCable: 'k', ...more });
const told = (cores: ReturnType<typeof core>[], wires: ReturnType<typeof wire>[]) =>
  checkCableCores(
    contextOf({
      parts: [cable('twin', cores)],
      loom: { points: points('A', 'B'), cables: [{ id: 'k', part: 'twin' }], wires },
    }),
  ).map(({ code, subject, severity }) => `${severity} ${code} ${subject ?? ''}`);

describe('a wire in a cable', () => {
  const cores = [core('red', mm2(1)), core('black', mm2(1))];

  test('has a core of its size and colour, in whatever order and mark', () => {
    const strands = { system: 'metricStrands', strands: 14, strandMm: 0.3 } as const;
    expect(told(cores, [inCable('1', 'black', mm2(1)), inCable('2', 'red', strands)])).toEqual([]);
    expect(told(cores, [inCable('1', 'black', mm2(1))])).toEqual([]);
  });

  test('is told where the core left for it has another colour or size', () => {
    expect(told(cores, [inCable('1', 'red', mm2(1)), inCable('2', 'red', mm2(1))])).toEqual([
      'warning core-differs wire:2',
    ]);
    expect(told(cores, [inCable('1', 'red', mm2(0.5)), inCable('2', 'black', mm2(1))])).toEqual([
      'warning core-differs wire:1',
    ]);
  });

  test('stops the reader where it carries current that only a thinner core is left for', () => {
    const thick = (amps?: number) =>
      told(cores, [
        inCable('1', 'red', mm2(2), amps === undefined ? {} : { amps }),
        inCable('2', 'black', mm2(1)),
      ]);
    expect(thick(10)).toEqual(['stop core-differs wire:1']);
    expect(thick()).toEqual(['warning core-differs wire:1']);
  });

  test('beyond the number of cores is told of the cable, not again of the wire', () => {
    expect(
      told(cores, [inCable('1', 'red', mm2(1)), inCable('2', 'black', mm2(1)), inCable('3', 'red', mm2(1))]),
    ).toEqual([]);
  });
});

describe('a cable that would stand in', () => {
  const result = (areaMm2: number) =>
    priced(
      jobOf({
        parts: [
          cable('old', [core('red', mm2(1))]),
          cable('new', [core('red', mm2(areaMm2))], {
            standsInFor: [{ part: 'old', confirmedBy: 'R. Alder' }],
          }),
        ],
        suppliers: [supplier('s')],
        offers: [byTheMetre('dear', 's', 'old', '3'), byTheMetre('cheap', 's', 'new', '1')],
        loom: {
          points: points('A', 'B'),
          cables: [{ id: 'k', part: 'old', length: { mm: 1000, basis: 'route' } }],
          wires: [inCable('W', 'red', mm2(1), { amps: 5 })],
        },
      }),
    );

  test('is not bought where its cores are thinner, and is where they are the same', async () => {
    const thin = await result(0.5);
    expect(Object.keys(bought(thin))).toEqual(['dear']);
    expect(thin.findings).toContainEqual(
      expect.objectContaining({
        code: 'stand-in-does-not-fit',
        limit: 'one of the cores left in new: 0.5 mm² red',
      }),
    );
    expect(Object.keys(bought(await result(1)))).toEqual(['cheap']);
  });
});
