import { expect, test } from 'vitest';
import { checkFuses } from '../../../worker/engine/loom/checks/fuses.ts';
import { points, wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Wire = ReturnType<typeof wire>;

// rydertowing.co.uk, cable table: 14/0.30 8.75 A, 28/0.30 17.5 A.
const thin = (id: string, more: Partial<Wire> = {}) => pvc(id, 14, more);
const thick = (id: string, more: Partial<Wire> = {}) => pvc(id, 28, more);
function pvc(id: string, strands: number, more: Partial<Wire>): Wire {
  return wire(id, {
    cableType: 'pvc',
    size: { system: 'metricStrands', strands, strandMm: 0.3 },
    circuit: 'lights',
    ...more,
  });
}
const fuse = (ratingAmps: number, basis: 'continuous' | 'blow' = 'continuous') => ({
  fuse: { ratingAmps, basis },
});
const check = (...wires: Wire[]) => checkFuses(contextOf({ loom: { points: points('A', 'B'), wires } }));

test('a fuse bigger than the smallest wire of its circuit is a stop at the thin one, which names the fuse', () => {
  const [finding, ...others] = check(thick('1', fuse(15)), thick('2'), thin('3'));
  expect(others).toEqual([]);
  expect(finding).toMatchObject({
    code: 'fuse-too-big',
    severity: 'stop',
    at: '/looms/0/wires/2',
    subject: 'wire:3',
    found: 'a fuse of 15 A (wire 1) before wire 3, pvc 14/0.30, rated 8.75 A',
    limit: 'at most 8.75 A continuously',
  });
});

test('a fuse that the smallest wire bears is not cried, nor are wires of other circuits', () => {
  expect(check(thick('1', fuse(8.75)), thin('2'))).toEqual([]);
  expect(check(thick('1', fuse(15)), thin('2', { circuit: 'horn' }))).toEqual([]);
});

// Old glass fuses: common practice, no source.
test('a fuse marked by the amps that blow it carries half of them for good', () => {
  expect(check(thick('1', fuse(35, 'blow')))).toEqual([]);
  expect(inShort(check(thick('1', fuse(36, 'blow'))))).toEqual(['fuse-too-big wire:1']);
  expect(inShort(check(thick('1', fuse(35))))).toEqual(['fuse-too-big wire:1']);
});

test('a thin wire with a fuse of its own is that one’s to guard', () => {
  expect(check(thick('1', fuse(15)), thin('2', fuse(5)))).toEqual([]);
  const [finding, ...others] = check(thick('1', fuse(15)), thin('2', fuse(10)));
  expect(others).toEqual([]);
  expect(finding).toMatchObject({ code: 'fuse-too-big', subject: 'wire:2' });
  expect(finding?.found).toContain('a fuse of 10 A (wire 2)');
});

test('a fuse too small for the amps of its wire is told', () => {
  expect(check(thick('1', { amps: 10, ...fuse(10) }))).toEqual([]);
  expect(inShort(check(thick('1', { amps: 10, ...fuse(9) })))).toEqual(['fuse-too-small wire:1']);
  expect(inShort(check(thick('1', { amps: 10, ...fuse(19, 'blow') })))).toEqual(['fuse-too-small wire:1']);
});

test('nothing is made up of wires without a known rating', () => {
  expect(check(wire('1', fuse(100)))).toEqual([]);
});

test('a thin wire behind the fuse is found through a shared terminal where no circuit is named', () => {
  const at = (point: string) => ({ point, join: 'crimp' as const, sharesTerminal: 'S' });
  const unnamed = ({ circuit: _, ...rest }: Wire): Wire => rest;
  const fused = unnamed(thick('1', { ...fuse(15), to: at('B') }));
  const behind = unnamed(thin('2', { from: at('B'), to: { point: 'A', join: 'bare' } }));
  expect(inShort(check(fused, behind))).toEqual(['fuse-too-big wire:2']);
  expect(check(fused, { ...behind, from: { point: 'B', join: 'bare' } })).toEqual([]);
});

test('a thin wire beyond another fuse is that one’s to guard, not that of the fuse before it', () => {
  const ends = (from: string, to: string) => ({
    from: { point: from, join: 'joint' as const },
    to: { point: to, join: 'joint' as const },
  });
  const chain = (second: number) =>
    checkFuses(
      contextOf({
        loom: {
          points: ['A', 'J', 'K', 'Z'].map((id) => ({ id, kind: 'joint' as const })),
          wires: [
            pvc('1', 44, { ...ends('A', 'J'), ...fuse(22), circuit: undefined }),
            thick('2', { ...ends('J', 'K'), ...fuse(second), circuit: undefined }),
            thin('3', { ...ends('K', 'Z'), circuit: undefined }),
          ],
        },
      }),
    );
  expect(chain(8.75)).toEqual([]);
  // The second fuse is too big for the thin wire, and for that alone: the first one's wires bear 22 A and 17.5 A.
  expect(inShort(chain(10))).toEqual(['fuse-too-big wire:3']);
});
