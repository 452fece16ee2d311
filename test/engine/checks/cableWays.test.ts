import { expect, test } from 'vitest';
import { checkCableWays } from '../../../worker/engine/loom/checks/cableWays.ts';
import { checkFittingPlaces } from '../../../worker/engine/loom/checks/fittings.ts';
import { mm2, points, wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

const twin = {
  kind: 'cable' as const,
  code: 'twin',
  description: 'Twin',
  cableType: 'pvc',
  cores: [
    { size: mm2(1), colour: { base: 'red' as const } },
    { size: mm2(1), colour: { base: 'black' as const } },
  ],
};
const loom = (via: string[] | undefined, cores: number) => ({
  points: points('A', 'B', 'C'),
  branches: [
    { id: 'ab', from: 'A', to: 'B', lengthMm: 500 },
    { id: 'bc', from: 'B', to: 'C', lengthMm: 300 },
  ],
  cables: [{ id: 'k', part: 'twin', ...(via ? { via } : {}) }],
  wires: Array.from({ length: cores }, (_, at) => wire(`W${at}`, { inCable: 'k' })),
});
const check = (via: string[] | undefined, cores: number) =>
  inShort(checkCableWays(contextOf({ parts: [twin], loom: loom(via, cores) })));

test('a cable’s way that does not join the ends of its cores is told; one that does, or none, is not', () => {
  expect(check(['ab'], 2)).toEqual([]);
  expect(check(undefined, 2)).toEqual([]);
  expect(check(['ab', 'bc'], 2)).toEqual(['way-broken cable:k']);
  expect(check(['bc'], 1)).toEqual(['way-broken cable:k']);
});

test('more wires in a cable than it has cores stop the reader; as many do not', () => {
  expect(check(['ab'], 3)).toEqual(['cores-exceeded cable:k']);
});

test('a fitting beyond the end of its branch is told; one at its end is not', () => {
  const at = (atMm: number) =>
    inShort(
      checkFittingPlaces(
        contextOf({
          parts: [{ kind: 'fitting', code: 'clip', description: 'Clip', fittingType: 'clip' }],
          loom: {
            ...loom(undefined, 1),
            cables: [],
            wires: [],
            fittings: [{ part: 'clip', branch: 'ab', atMm }],
          },
        }),
      ),
    );
  expect(at(500)).toEqual([]);
  expect(at(501)).toEqual(['fitting-beyond-branch fitting:clip@ab']);
});
