import { expect, test } from 'vitest';
import { jobOf, priced, terminal, wire } from './fixtures.ts';

const pvc = (id: string, more: Partial<ReturnType<typeof wire>>) =>
  wire(id, { cableType: 'pvc', amps: 3, ...more });

test('the cautions count what was checked against a published limit, by the parts, by practice and not at all', async () => {
  const job = jobOf({
    parts: [
      { ...terminal('stated'), wireMaxMm2: 2 },
      terminal('silent'),
      {
        kind: 'wire',
        code: 'own',
        description: 'Own',
        cableType: 'own',
        size: { system: 'mm2', areaMm2: 1 },
        colour: { base: 'red' },
        ratedAmps: 10,
      },
    ],
    loom: {
      points: [
        { id: 'A', kind: 'connector' },
        { id: 'B', kind: 'connector' },
      ],
      wires: [
        // 1 mm² of PVC vehicle cable has a published rating, thin-wall has none, "own" has its part's.
        pvc('1', { fuse: { ratingAmps: 5, basis: 'continuous' } }),
        pvc('2', { fuse: { ratingAmps: 10, basis: 'blow' } }),
        wire('3', { amps: 2, fuse: { ratingAmps: 5, basis: 'continuous' } }),
        wire('4', { amps: 2, cableType: 'own' }),
        wire('5', {
          from: { point: 'A', join: 'crimp', terminal: { part: 'stated' } },
          to: { point: 'B', join: 'crimp', terminal: { part: 'silent' } },
        }),
      ],
    },
  } as Parameters<typeof jobOf>[0]);
  const { cautions } = await priced(job);
  expect(cautions.join('\n')).toContain(
    [
      'Checked against a published limit: 2 wires with a current, 1 fuse.',
      'Checked against figures of your own parts: 1 wire with a current, 1 end with a terminal.',
      'Checked by common practice, without a published source: 1 fuse.',
      'Not checked: 1 wire with a current, 1 fuse, 1 end with a terminal.',
    ].join(' '),
  );
  expect(cautions.join('\n')).toContain('a short circuit, not against an overload');
});

test('where nothing of size is stated, the cautions say that nothing was checked', async () => {
  const { cautions } = await priced(
    jobOf({
      loom: {
        parts: [],
        wires: [wire('1')],
        points: [
          { id: 'A', kind: 'connector' },
          { id: 'B', kind: 'connector' },
        ],
      },
    }),
  );
  expect(cautions.join('\n')).toContain('Nothing was checked here');
  expect(cautions.join('\n')).not.toContain('published limit');
});
