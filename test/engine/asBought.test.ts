import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bare, byTheMetre, crimped, jobOf, mm2, points, supplier, unhurried, wire } from './fixtures.ts';

type PartInput = JobInput['parts'][number];
type WireInput = Parameters<typeof wire>[1];

const redOf = (areaMm2: number, outsideDiameterMm: number): PartInput => ({
  kind: 'wire',
  code: `red-${areaMm2}`,
  description: `Red ${areaMm2}`,
  cableType: 'made-up',
  size: mm2(areaMm2),
  colour: { base: 'red' },
  outsideDiameterMm,
});

/** Three wires of 1 mm² along one branch, of which the catalogue has 1 and 2.5 mm²; these are on offer. */
const job = (offered: string[], given: WireInput = {}) =>
  jobOf({
    parts: [
      redOf(1, 2),
      redOf(2.5, 3),
      {
        kind: 'terminal',
        code: 'pin',
        description: 'Pin',
        terminalType: 'pin',
        wireMinMm2: 0.5,
        wireMaxMm2: 1.5,
      },
      { kind: 'seal', code: 'seal', description: 'Seal', insulationMinMm: 1.5, insulationMaxMm: 2.2 },
      ...[5, 8].map((boreMm): PartInput => ({
        kind: 'sleeve',
        code: `pvc-${boreMm}`,
        description: 'PVC',
        sleeveType: 'pvc',
        boreMm,
      })),
    ],
    suppliers: [supplier('s')],
    offers: offered.map((code) => byTheMetre(`o-${code}`, 's', code, '1')),
    loom: {
      points: points('A', 'B'),
      branches: [{ id: 'b', from: 'A', to: 'B', lengthMm: 100 }],
      wires: ['1', '2', '3'].map((id) => {
        const { length: _none, ...routed } = wire(id, {
          cableType: 'made-up',
          circuit: 'one',
          colourRule: 'nextSizeUp',
          from: crimped('A', 'pin', { seal: { part: 'seal' } }),
          to: { ...bare('B'), way: id },
          ...given,
        });
        return routed;
      }),
      coverings: [{ id: 'c', kind: 'pvc', over: ['b'] }],
    },
  });
const rolled = (...given: Parameters<typeof job>) => {
  const { requirements, findings, branches } = rollUp(normaliseJob(job(...given)), unhurried);
  return {
    sleeves: requirements.flatMap((requirement) => (requirement.kind === 'length' ? [requirement.part] : [])),
    told: [...new Set(findings.map(({ code }) => code))],
    bundleMm: branches.of('l')[0]?.bundle?.diameterMm,
  };
};

describe('wires that are bought a size up', () => {
  // Three of one diameter: 1 + 2/√3 of it.
  const three = (mm: number) => mm * (1 + 2 / Math.sqrt(3));

  test('are sleeved as thick as they come', () => {
    // 3 × 2.155 = 6.46 mm does not go through 5 mm.
    const { sleeves, bundleMm } = rolled(['red-2.5'], { from: bare('A') });
    expect(bundleMm).toBeCloseTo(three(3), 9);
    expect(sleeves).toEqual(['pvc-8']);
  });

  test('are held against terminals and seals in the size in which they come: what fails is not bought', () => {
    const { told, sleeves, bundleMm } = rolled(['red-2.5']);
    expect(told).toEqual(['substitute-does-not-fit']);
    expect([sleeves, bundleMm]).toEqual([['pvc-5'], three(2)]);
    const { findings, requirements } = rollUp(normaliseJob(job(['red-2.5'])), unhurried);
    expect(findings[0]).toMatchObject({
      severity: 'note',
      at: '/looms/0/wires/0/size',
      found: expect.stringContaining('2.5 mm² instead of 1 mm²') as string,
      limit: '0.5 to 1.5 mm²',
    });
    expect(requirements[0]?.id).toBe('wire:made-up:1mm2:red');
  });

  test('are bought a size up where that fits, and stay what they are where it does not, wire by wire', () => {
    const given = job(['red-2.5']);
    const [first] = given.looms[0]?.wires ?? [];
    if (first) first.from = { point: 'A', join: 'bare' };
    const { requirements, findings } = rollUp(normaliseJob(given), unhurried);
    expect(
      requirements.flatMap((requirement) =>
        requirement.kind === 'wire' ? [[requirement.id, requirement.pieces.map(({ wire: id }) => id)]] : [],
      ),
    ).toEqual([
      ['wire:made-up:1mm2:red', ['2', '3']],
      ['wire:made-up:2.5mm2:red', ['1']],
    ]);
    expect(findings.map(({ subject }) => subject)).toEqual(['wire:2', 'wire:3']);
  });

  test('are what was drawn where that is on offer, or nothing larger is, or they are not bought', () => {
    const asDrawn = { sleeves: ['pvc-5'], told: [] };
    expect(rolled(['red-1', 'red-2.5'])).toMatchObject(asDrawn);
    expect(rolled([])).toMatchObject(asDrawn);
    expect(rolled(['red-2.5'], { supply: 'reuse' })).toMatchObject(asDrawn);
    expect(rolled(['red-2.5'], { colourRule: 'exact' }).bundleMm).toBeCloseTo(three(2), 9);
  });
});
