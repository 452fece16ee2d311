import { describe, expect, test } from 'vitest';
import { differingFigures } from '../../worker/engine/quote/differingFigures.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { consumable, jobOf, mm2, pack, priced, supplier, terminal } from './fixtures.ts';

const ring = (figures: object) => ({ ...terminal('ring'), terminalType: 'ring', ...figures });
const between = (bought: object, named: object) => differingFigures(Part.parse(bought), Part.parse(named));

describe('the figures in which a part differs from the one it stands in for', () => {
  test('are those that both state, each with its unit', () => {
    expect(
      between(
        ring({ sizeMm: 4.2, ratedAmps: 10, gender: 'none' }),
        ring({ sizeMm: 6.4, ratedAmps: 20, stripMm: 5 }),
      ),
    ).toEqual(['hole or size 4.2 mm, not 6.4 mm', 'rated 10 A, not 20 A']);
  });

  test('are not its names, its weight and what it goes with', () => {
    expect(
      between(
        ring({ code: 'a', maker: 'A', makerCode: '1', family: 'f', weightG: 1, note: 'x' }),
        ring({ code: 'b', maker: 'B', makerCode: '2', family: 'g', weightG: 2, note: 'y' }),
      ),
    ).toEqual([]);
  });

  test('are said in words where they are words', () => {
    const device = (deviceType: string) => ({ ...consumable('d'), kind: 'device', deviceType });
    expect(between(device('fuseHolder'), device('fuse'))).toEqual(['type fuse holder, not fuse']);
    const housing = (sealed: boolean) => ({ ...consumable('h'), kind: 'housing', ways: 2, sealed });
    expect(between(housing(false), housing(true))).toEqual(['sealed no, not yes']);
  });

  test('are no two marks of one size, and the cores of a cable one by one', () => {
    const strands = { system: 'metricStrands', strands: 14, strandMm: 0.3 };
    const wire = (size: object, base: string) => ({
      ...consumable('w'),
      kind: 'wire',
      cableType: 'pvc',
      size,
      colour: { base },
    });
    expect(between(wire(strands, 'red'), wire(mm2(1), 'red'))).toEqual([]);
    expect(between(wire(mm2(2), 'lightBlue'), wire(strands, 'red'))).toEqual([
      'size 2 mm², not 1 mm²',
      'colour light blue, not red',
    ]);
    expect(between({ ...wire(mm2(1), 'red'), cableType: 'FLRY-B' }, wire(mm2(1), 'red'))).toEqual([
      'cable type FLRY-B, not pvc',
    ]);
    const cable = (...bases: string[]) => ({
      ...consumable('c'),
      kind: 'cable',
      cableType: 'pvc',
      cores: bases.map((base) => ({ size: mm2(1), colour: { base } })),
    });
    expect(between(cable('red', 'blue'), cable('red', 'black'))).toEqual([
      'cores 1 mm² red and 1 mm² blue, not 1 mm² red and 1 mm² black',
    ]);
  });

  test('stand in the note of what is bought in place', async () => {
    const device = (code: string, ratedAmps: number, more: object = {}) => ({
      kind: 'device' as const,
      code,
      description: code,
      deviceType: 'relay' as const,
      ratedAmps,
      ...more,
    });
    const result = await priced(
      jobOf({
        parts: [
          device('old', 20),
          device('new', 30, { standsInFor: [{ part: 'old', confirmedBy: 'R. Alder' }] }),
        ],
        suppliers: [supplier('s')],
        offers: [pack('o', 's', 'new', 1, '1')],
        loom: { parts: [{ part: 'old', quantity: 1 }] },
      }),
    );
    expect(result.findings).toContainEqual(
      expect.objectContaining({
        code: 'bought-in-place',
        found: 'new is bought instead of old, confirmed by R. Alder; differs in: rated 30 A, not 20 A',
      }),
    );
  });
});
