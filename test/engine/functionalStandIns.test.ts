import { describe, expect, test } from 'vitest';
import { substitutesOf } from '../../worker/engine/loom/wires/substitutes.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Shade } from '../../worker/engine/model/colour.ts';
import { bought, byTheMetre, jobOf, mm2, points, priced, supplier, wire } from './fixtures.ts';

type Purpose = NonNullable<NonNullable<Parameters<typeof wire>[1]>['function']>;

const ohms: Purpose = { targetOhm: 1.5 };
const link: Purpose = { fixedMm: 150 };
const FUNCTIONS: [string, Purpose][] = [
  ['a resistor wire', ohms],
  ['a fusible link', link],
];

const part = (code: string, base: Shade, areaMm2: number, more: object = {}): JobInput['parts'][number] => ({
  kind: 'wire',
  code,
  description: code,
  cableType: 'made-up',
  size: mm2(areaMm2),
  colour: { base },
  ...more,
});

describe('the colourRule of a wire that is cut by its function', () => {
  const job = jobOf({
    parts: [
      part('thick', 'red', 2),
      part('plain', 'green', 1),
      { kind: 'sleeve', code: 'mark', description: 'Mark', sleeveType: 'pvc', shade: 'white', boreMm: 3 },
    ],
    loom: { points: points('A', 'B'), wires: [wire('W')] },
  });
  const standFor = substitutesOf(job.parts, () => true);
  const asked = (given: Parameters<typeof wire>[1]) => {
    const [made] = jobOf({
      loom: { points: points('A', 'B'), wires: [wire('W', { cableType: 'made-up', ...given })] },
    }).looms.flatMap(({ wires }) => wires);
    if (!made) throw new Error('no wire');
    return standFor(made, 2);
  };
  const upsized = { colourRule: 'nextSizeUp' } as const;
  const marked = {
    colourRule: 'plainBaseWithTracerSleeve',
    colour: { base: 'green', tracer: 'white' },
  } as const;

  test('of an ordinary wire exchanges it', () => {
    expect(asked(upsized).spec.size).toEqual(mm2(2));
    expect(asked(marked).tracerSleeve?.code).toBe('mark');
  });

  test.each(FUNCTIONS)('exchanges no size and no colour of %s', (_what, purpose) => {
    expect(asked({ ...upsized, function: purpose })).toEqual({
      spec: { cableType: 'made-up', size: mm2(1), colour: { base: 'red' } },
    });
    expect(asked({ ...marked, function: purpose })).toEqual({
      spec: { cableType: 'made-up', size: mm2(1), colour: { base: 'green', tracer: 'white' } },
    });
  });
});

describe('a part that would stand in for a wire that is cut by its function', () => {
  const result = (purpose: Purpose, own: object, other: Parameters<typeof part>[2], more: object) =>
    priced(
      jobOf({
        parts: [part('old', 'red', 1, own), part('new', 'green', other, more)],
        fits: [{ from: 'new', relation: 'standsInFor', to: 'old', status: 'confirmed', by: 'R. Alder' }],
        suppliers: [supplier('s')],
        offers: [byTheMetre('dear', 's', 'old', '3'), byTheMetre('cheap', 's', 'new', '1')],
        loom: { points: points('A', 'B'), wires: [wire('W', { cableType: 'made-up', function: purpose })] },
      }),
    );
  const each = (resistanceMilliohmPerM: number) => ({ resistanceMilliohmPerM });

  test('is bought for a resistor wire only with the same ohms a metre', async () => {
    expect(Object.keys(bought(await result(ohms, each(1000), 1, each(1000))))).toEqual(['cheap']);
    for (const [other, found] of [
      [each(100), 'resistance 100 mΩ/m'],
      [{}, 'no resistance of new is known'],
    ] as const) {
      const refused = await result(ohms, each(1000), 1, other);
      expect(Object.keys(bought(refused))).toEqual(['dear']);
      expect(refused.findings).toContainEqual(
        expect.objectContaining({
          code: 'stand-in-does-not-fit',
          found: expect.stringContaining(found) as string,
          limit: '1000 mΩ/m, for which it is cut',
        }),
      );
    }
  });

  test('is bought for a fusible link only in the same size', async () => {
    expect(Object.keys(bought(await result(link, {}, 1, {})))).toEqual(['cheap']);
    const refused = await result(link, {}, 6, {});
    expect(Object.keys(bought(refused))).toEqual(['dear']);
    expect(refused.findings).toContainEqual(
      expect.objectContaining({ code: 'stand-in-does-not-fit', limit: '1 mm², for which it is cut' }),
    );
  });
});
