import { expect, test } from 'vitest';
import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import { jobOf, mm2, points, unhurried, wire } from '../fixtures.ts';

// ISO 6722, 1.0 mm² thin wall: 2.10 mm at the most (read in a wire maker's restatement).
test('a boot or sleeve over an end is too small under the wire’s outside diameter, and the table is named', () => {
  const boot = (code: string, boreMm: number) => ({ kind: 'boot' as const, code, description: code, boreMm });
  const end = (part: string) => ({ point: 'A', join: 'bare' as const, cover: { part } });
  const job = jobOf({
    parts: [boot('narrow', 2), boot('wide', 2.1)],
    loom: {
      points: points('A', 'B'),
      wires: [
        wire('1', { size: mm2(1), from: end('narrow') }),
        wire('2', { size: mm2(1), from: end('wide') }),
        wire('3', { cableType: 'nobody-knows', from: end('narrow') }),
      ],
    },
  });
  const found = rollUp(normaliseJob(job), unhurried).findings.filter(
    ({ code }) => code === 'cover-too-small',
  );
  expect(found.map(({ subject, source }) => [subject, source?.includes('ISO 6722')])).toEqual([
    ['wire:1:from', true],
  ]);
});

// NASA-STD-8739.4 §9.8.1: the least bore as supplied is larger than what it passes over.
test('heat-shrink over an end is larger than the wire as supplied; as large is too small', () => {
  const shrink = (code: string, boreMm: number) => ({
    ...{ kind: 'sleeve' as const, sleeveType: 'heatShrink' as const, code, description: code, boreMm },
  });
  const end = (part: string) => ({ point: 'A', join: 'bare' as const, cover: { part } });
  const job = jobOf({
    parts: [shrink('even', 2.1), shrink('larger', 2.4)],
    loom: {
      points: points('A', 'B'),
      wires: ['even', 'larger'].map((part) => wire(part, { size: mm2(1), from: end(part) })),
    },
  });
  const found = rollUp(normaliseJob(job), unhurried).findings.filter(
    ({ code }) => code === 'cover-too-small',
  );
  expect(found).toMatchObject([{ subject: 'wire:even:from', limit: 'a bore of more than 2.1 mm' }]);
  expect(found[0]?.source).toContain('NASA-STD-8739.4');
});

// Two circles beside each other: 2.1 + 2.1 mm.
test('a cover over a terminal that wires share goes over all of them, and is told once', () => {
  const boot = (code: string, boreMm: number) => ({ kind: 'boot' as const, code, description: code, boreMm });
  const found = (cover: string) => {
    const end = { point: 'A', join: 'crimp' as const, sharesTerminal: 'x', cover: { part: cover } };
    const job = jobOf({
      parts: [boot('narrow', 4.1), boot('wide', 4.2)],
      loom: {
        points: points('A', 'B'),
        wires: ['1', '2'].map((id) => wire(id, { size: mm2(1), from: end, to: { ...end, point: 'B' } })),
      },
    });
    return rollUp(normaliseJob(job), unhurried).findings.filter(({ code }) => code === 'cover-too-small');
  };
  expect(found('narrow')).toMatchObject([
    { subject: 'wire:1:from', found: 'narrow, a bore of 4.1 mm over 4.2 mm of wires 1, 2 together' },
    { subject: 'wire:1:to' },
  ]);
  expect(found('wide')).toEqual([]);
});
