import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { PointKind } from '../../worker/engine/model/loom.ts';
import type { Settings } from '../../worker/engine/model/settings.ts';
import type { z } from 'zod';
import { jobOf, wire } from './fixtures.ts';

type Kind = z.infer<typeof PointKind>;
type EndInput = NonNullable<JobInput['looms'][number]['wires']>[number]['from'];

const terminal = (code: string, join?: 'crimp' | 'solder' | 'either') =>
  ({ kind: 'terminal', code, description: code, terminalType: 'other', ...(join ? { join } : {}) }) as const;
const catalogue: JobInput['parts'] = [
  terminal('crimped', 'crimp'),
  terminal('soldered', 'solder'),
  terminal('either', 'either'),
  terminal('unsaid'),
  { kind: 'seal', code: 'seal', description: 'Seal' },
  { kind: 'cover', code: 'boot', description: 'Boot' },
  { kind: 'cover', code: 'cap', description: 'Cap' },
];

/** The end of a wire of 1 mm² at a point, as it is worked. */
function worked(
  end: Omit<EndInput, 'point'>,
  kind: Kind = 'device',
  club: Settings = {},
  loom: Settings = {},
) {
  const job = jobOf({
    parts: catalogue,
    club: { currency: 'GBP', settings: club },
    looms: [
      {
        code: 'loom',
        name: 'Loom',
        settings: loom,
        points: [
          { id: 'A', kind },
          { id: 'B', kind: 'device' },
        ],
        wires: [wire('W1', { from: { ...end, point: 'A' }, to: { point: 'B', join: 'bare' } })],
      },
    ],
    request: { looms: [{ loom: 'loom', quantity: 1 }] },
  });
  const normal = normaliseJob(job);
  // Worked again, it is the same.
  expect(normaliseJob(normal)).toEqual(normal);
  return normal.looms[0]?.wires[0]?.from;
}
const use = (part: string) => ({ part, supply: 'buy' as const });

describe('an end that does not say how it is joined', () => {
  test.each([
    ['crimped', 'crimp'],
    ['soldered', 'solder'],
    ['either', 'crimp'],
    ['unsaid', 'crimp'],
  ])('is joined as its terminal %s is', (part, join) => {
    expect(worked({ terminal: use(part) })?.join).toBe(join);
  });

  test.each([
    ['joint', 'joint'],
    ['connector', 'crimp'],
    ['stud', 'crimp'],
    ['joiner', 'crimp'],
    ['device', 'bare'],
    ['flyingLead', 'bare'],
    ['breakout', 'bare'],
  ] as const)('without a terminal at a %s is %s', (kind, join) => {
    expect(worked({}, kind)?.join).toBe(join);
  });

  test('keeps what it says', () => {
    expect(worked({ join: 'solder', terminal: use('crimped') })?.join).toBe('solder');
  });
});

describe('the settings’ terminal, seal and cover', () => {
  const endDefaults: Settings['endDefaults'] = [
    { at: 'stud', overMm2: 2, terminal: 'soldered' },
    { at: 'stud', upToMm2: 2, terminal: 'crimped', cover: 'boot', seal: 'seal' },
    { terminal: 'unsaid', cover: 'cap' },
  ];
  test('are those of the first rule for the kind of point and the size', () => {
    expect(worked({}, 'stud', { endDefaults })).toMatchObject({
      terminal: use('crimped'),
      cover: use('boot'),
      seal: use('seal'),
      join: 'crimp',
    });
    expect(worked({}, 'device', { endDefaults })).toMatchObject({
      terminal: use('unsaid'),
      cover: use('cap'),
    });
  });

  test('give way to what the end states, and go with their own terminal alone', () => {
    expect(worked({ terminal: use('either') }, 'stud', { endDefaults })).toEqual({
      point: 'A',
      terminal: use('either'),
      join: 'crimp',
    });
    expect(worked({ terminal: use('crimped'), cover: use('cap') }, 'stud', { endDefaults })).toMatchObject({
      cover: use('cap'),
      seal: use('seal'),
    });
  });

  test('of the loom come before those of the club', () => {
    expect(worked({}, 'stud', { endDefaults }, { endDefaults: [{ terminal: 'either' }] })?.terminal).toEqual(
      use('either'),
    );
  });

  test.each([{ join: 'bare' }, { join: 'joint' }, { sharesTerminal: 's' }] as const)(
    'are not for an end with %o',
    (end) => {
      expect(worked(end, 'stud', { endDefaults })).not.toHaveProperty('terminal');
    },
  );

  test('are left out where the catalogue has no such part', () => {
    expect(
      worked({}, 'device', { endDefaults: [{ terminal: 'ghost' }, { terminal: 'either' }] })?.terminal,
    ).toEqual(use('either'));
  });
});
