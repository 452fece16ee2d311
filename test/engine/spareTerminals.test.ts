import { expect, test } from 'vitest';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { crimped, jobOf, points, terminal, unhurried, wire } from './fixtures.ts';

const quantities = (job: Job) =>
  Object.fromEntries(
    rollUp(job, unhurried).requirements.map((requirement) => [
      requirement.id,
      requirement.kind === 'count' ? requirement.quantity : requirement.totalMm,
    ]),
  );

test('terminals have spares, as seals have and covers that stand over them, and other parts have none', () => {
  const given = jobOf({
    parts: [
      terminal('ring'),
      { kind: 'seal', code: 'seal', description: 'Seal' },
      { kind: 'cover', code: 'cover', description: 'Cover' },
      { kind: 'cover', code: 'dust-cap', description: 'Dust cap' },
      { kind: 'boot', code: 'boot', description: 'Boot' },
    ],
    loom: {
      points: points('A', 'B'),
      wires: [
        wire('1', {
          from: crimped('A', 'ring', { seal: { part: 'seal' }, cover: { part: 'cover' } }),
          to: crimped('B', 'ring', { cover: { part: 'boot' } }),
        }),
      ],
      parts: [{ part: 'dust-cap', quantity: 1 }],
    },
  });
  expect(quantities(given)).toMatchObject({
    'part:ring': 3,
    'part:seal': 2,
    'part:cover': 2,
    'part:dust-cap': 1,
    'part:boot': 1,
  });
});

test('terminals that are soldered have more spares than crimped ones, by the rules for the join, and so have their covers', () => {
  const given = (count: number, settings: object = {}) =>
    jobOf({
      parts: [terminal('ring'), { kind: 'cover', code: 'cover', description: 'Cover' }],
      quantity: count,
      loom: {
        settings,
        points: points('A', 'B'),
        wires: [
          wire('1', {
            from: {
              point: 'A',
              join: 'solder',
              terminal: { part: 'ring' },
              cover: { part: 'cover' },
            },
          }),
        ],
      },
    });
  // Of 27 at 5 %, at most 2 fail with 0.95²⁷ + 27·0.05·0.95²⁶ + 351·0.05²·0.95²⁵ = 84.9 %; of 28 at most 3 with 95.1 %.
  // At 2 % it is 2: of 27 at most 2 fail with 98.3 %, at most 1 of 26 with 90.5 %.
  expect(quantities(given(25))).toMatchObject({ 'part:ring': 28, 'part:cover': 28 });
  expect(quantities(given(25, { spareByJoin: [] }))).toMatchObject({ 'part:ring': 27, 'part:cover': 27 });
  const spareByJoin = [
    { join: 'crimp' as const, spareMinimum: 9 },
    { join: 'solder' as const, sparePercent: 20, failurePercent: 0 },
    { join: 'solder' as const, spareMinimum: 7, sparePercent: 90 },
  ];
  expect(quantities(given(25, { spareByJoin }))).toMatchObject({ 'part:ring': 32 });
  expect(quantities(given(40, { spareByJoin }))).toMatchObject({ 'part:ring': 48 });
});
