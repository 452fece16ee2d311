import { expect, test } from 'vitest';
import { askedLooms } from '../../../worker/engine/loom/asked.ts';
import { branchesOf } from '../../../worker/engine/loom/graph/branches.ts';
import { wireFiguresOf } from '../../../worker/engine/loom/wires/wireFigures.ts';
import { jobOf, mm2, points, wire } from '../fixtures.ts';

const LEG = { id: 'leg', from: 'A', to: 'B', lengthMm: 500 };
const cable = (code: string, outsideDiameterMm?: number) => ({
  kind: 'cable' as const,
  code,
  description: code,
  cableType: 'twin',
  cores: [{ size: mm2(1), colour: { base: 'red' as const } }],
  ...(outsideDiameterMm === undefined ? {} : { outsideDiameterMm }),
});

function along(given: Parameters<typeof jobOf>[0]) {
  const job = jobOf(given);
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const [branch] = branchesOf(askedLooms(job), parts, wireFiguresOf(job.parts)).of('l');
  if (!branch) throw new Error('no branch');
  return branch;
}

test('wires run along the branches between their ends, and one with a length that no branches join runs along none', () => {
  const { wires, bundle } = along({
    loom: {
      points: points('A', 'B', 'far'),
      branches: [LEG],
      wires: [wire('1'), wire('2'), wire('3', { to: { point: 'far', join: 'bare' } })],
    },
  });
  expect(wires.map(({ id }) => id)).toEqual(['1', '2']);
  // Two of 2.1 mm beside each other (ISO 6722, 1.0 mm² thin wall: 2.10 mm at the most).
  expect(bundle?.diameterMm).toBeCloseTo(4.2, 9);
});

test('a cable counts once by its own outside diameter, instead of its cores; without one the bundle is not known', () => {
  const of = (part: ReturnType<typeof cable>) =>
    along({
      parts: [part],
      loom: {
        points: points('A', 'B'),
        branches: [LEG],
        cables: [{ id: 'K', part: part.code }],
        wires: [wire('1', { inCable: 'K' }), wire('2', { inCable: 'K' }), wire('3')],
      },
    });
  const known = of(cable('k', 5));
  expect([known.wires.map(({ id }) => id), known.cables.map(({ id }) => id)]).toEqual([['3'], ['K']]);
  expect(known.bundle?.diameterMm).toBeCloseTo(7.1, 9);
  expect(of(cable('k')).bundle).toBeUndefined();
});
