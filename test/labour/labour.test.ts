import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { labourOfJob } from '../../worker/engine/labour/labour.ts';
import type { LoomLabour } from '../../worker/engine/model/buildOrBuy.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { OPERATION_NAMES, operationOf } from '../../worker/engine/model/labour.ts';
import type { Settings } from '../../worker/engine/model/settings.ts';
import { branchedJob } from '../support/branchedLoom.ts';
import { bare, consumable, crimped, jobOf, terminal, wire } from '../engine/fixtures.ts';

type Loom = Partial<JobInput['looms'][number]>;

const labour = (job: Job) => labourOfJob(normaliseJob(job));

function only(labours: readonly LoomLabour[]): LoomLabour {
  const [one] = labours;
  if (!one || labours.length > 1) throw new Error('not one loom');
  return one;
}

const countsOf = ({ operations }: LoomLabour) =>
  Object.fromEntries(operations.map(({ operation, count }) => [operation, count]));

const parts: JobInput['parts'] = [
  terminal('ring'),
  consumable('cover'),
  consumable('seal'),
  { kind: 'sleeve', code: 'sleeve', description: 'PVC sleeve', sleeveType: 'pvc' },
  { kind: 'sleeve', code: 'shrink', description: 'Heat-shrink', sleeveType: 'heatShrink' },
  { kind: 'tape', code: 'tape', description: 'Tape', tapeType: 'cloth', widthMm: 19 },
  {
    kind: 'cable',
    code: 'twin',
    description: 'Twin',
    cableType: 'twin',
    cores: [{ size: { system: 'mm2', areaMm2: 1 }, colour: { base: 'red' } }],
  },
];

const stud = (id: string) => ({ id, kind: 'stud' as const });
const connector = (id: string) => ({ id, kind: 'connector' as const });

function counted(loom: Loom, quantity = 1, settings?: Settings) {
  const job = jobOf({ parts, loom: { ...loom, ...(settings ? { settings } : {}) }, quantity });
  return only(labour(job));
}

const counts = (loom: Loom, quantity = 1) => countsOf(counted(loom, quantity));

describe('the operations of a loom', () => {
  test('are those that its page counts by hand: the trailer', () => {
    const job = Job.parse(JSON.parse(readFileSync('examples/trailer/job.json', 'utf8')));
    // 12 wires; 10 blades, 4 bullets, 1 ring; heat-shrink and three braids of 570, 1111 and 2892 mm; a grommet and 6 clips;
    // indicators, tail, stop, earth; plug, three lamps, joiner, stud.
    expect(countsOf(only(labour(job)))).toEqual({
      takingOff: 12,
      recording: 12,
      board: 1,
      layout: 1,
      labels: 24,
      cutting: 16,
      stripping: 24,
      crimping: 15,
      covers: 10,
      sleevePieces: 3,
      sleeveMetres: 4.573,
      heatShrink: 1,
      fittings: 7,
      testing: 5,
      fitting: 6,
      testingFitted: 5,
      faults: 1,
    });
  });

  test('strip two wires that share a terminal twice, crimp and cover them once, and seal each', () => {
    const shared = { sharesTerminal: 'T', seal: { part: 'seal' }, cover: { part: 'cover' } };
    const made = counts({
      points: [stud('A'), connector('B')],
      wires: [
        wire('1', { from: crimped('A', 'ring', shared) }),
        wire('2', { from: crimped('A', 'ring', shared) }),
      ],
    });
    expect(made).toMatchObject({ stripping: 4, crimping: 1, covers: 1, seals: 2 });
  });

  test('take all ends that meet in a joint for one joint, and leave an end bare that is not stripped', () => {
    const joint = { point: 'J', join: 'joint' as const };
    const made = counts({
      points: [{ id: 'J', kind: 'joint' }, connector('B')],
      wires: ['1', '2', '3'].map((id) => wire(id, { from: joint, to: { ...bare('B'), stripMm: 0 } })),
    });
    expect(made).toMatchObject({ joints: 1, stripping: 3, fitting: 1, testing: 1 });
    expect(made).not.toHaveProperty('crimping');
  });

  test('leave a reused wire as it came off, make a new terminal on it, and solder it anew', () => {
    const reused = { supply: 'reuse' as const };
    const old = { terminal: { part: 'ring', supply: 'reuse' as const } };
    const loomWith = (from: ReturnType<typeof bare>) => ({
      points: [stud('A'), connector('B')],
      wires: [wire('1', { ...reused, from })],
    });
    const asItIs = counts(loomWith(crimped('A', 'ring', old)));
    expect(asItIs).toMatchObject({ takingOff: 1, labels: 2, testing: 1 });
    for (const none of ['cutting', 'stripping', 'crimping']) expect(asItIs).not.toHaveProperty(none);
    expect(counts(loomWith(crimped('A', 'ring')))).toMatchObject({ stripping: 1, crimping: 1 });
    const soldered = counts(loomWith({ point: 'A', join: 'solder' }));
    expect(soldered).toMatchObject({ soldering: 1 });
    expect(soldered).not.toHaveProperty('stripping');
  });

  test('put an old terminal on a new wire, as on a new one', () => {
    const old = { terminal: { part: 'ring', supply: 'reuse' as const } };
    const made = counts({
      points: [stud('A'), connector('B')],
      wires: [wire('1', { from: crimped('A', 'ring', old) })],
    });
    expect(made).toMatchObject({ cutting: 1, stripping: 2, crimping: 1 });
  });

  test('cut a cable once, and strip its sheath at both ends and each of its cores', () => {
    const made = counts({
      points: [stud('A'), connector('B')],
      cables: [{ id: 'C', part: 'twin', length: { mm: 900, basis: 'route' } }],
      wires: ['1', '2'].map((id) => wire(id, { inCable: 'C', from: crimped('A', 'ring') })),
    });
    expect(made).toMatchObject({ takingOff: 2, cutting: 1, sheath: 2, stripping: 4, crimping: 2 });
  });

  test('thread a reused sleeve without cutting it, and measure sleeve and tape in metres', () => {
    const made = counts({
      coverings: [
        { id: '1', kind: 'pvc', part: 'sleeve', lengthMm: 1250 },
        { id: '2', kind: 'pvc', part: 'sleeve', supply: 'reuse', lengthMm: 500 },
        { id: '3', kind: 'tape', part: 'tape', lengthMm: 3001 },
        { id: '4', kind: 'heatShrink', part: 'shrink', lengthMm: 40 },
      ],
    });
    expect(made).toEqual({ cutting: 2, sleevePieces: 2, sleeveMetres: 1.75, tape: 3.001, heatShrink: 1 });
  });

  test('plug two halves of one loom together once, and finish one shared terminal in the vehicle once', () => {
    const late = { terminateInVehicle: true, sharesTerminal: 'T' };
    const made = counts({
      points: [
        stud('A'),
        { ...connector('B'), matedTo: { point: 'C' } },
        connector('C'),
        connector('unused'),
      ],
      wires: [
        wire('1', { from: crimped('A', 'ring', late), to: bare('B') }),
        wire('2', { from: crimped('A', 'ring', late), to: bare('C') }),
      ],
    });
    expect(made).toMatchObject({ inVehicle: 1, fitting: 2 });
  });

  test('record and make the board once for looms that are made alike, and the rest for each', () => {
    const loom = { points: [stud('A'), connector('B')], wires: [wire('1')] };
    const [one, five] = [counts(loom), counts(loom, 5)];
    expect(Object.keys(five)).toEqual(Object.keys(one));
    for (const [operation, count] of Object.entries(one))
      expect([operation, five[operation]]).toEqual([
        operation,
        ['recording', 'board'].includes(operation) ? count : 5 * Number(count),
      ]);
  });

  test('of a loom do not change with the looms beside it', () => {
    const shape = { wires: 30, branches: 12, looms: 3, seed: 7 };
    const job = branchedJob(shape);
    const alone = job.looms.map((loom) =>
      only(
        labour(Job.parse({ ...job, looms: [loom], request: { looms: [{ loom: loom.code, quantity: 1 }] } })),
      ),
    );
    expect(labour(Job.parse(job))).toEqual(alone);
  });
});

describe('the minutes of a loom', () => {
  const loom: Loom = {
    points: [stud('A'), connector('B')],
    wires: ['1', '2', '3'].map((id) => wire(id, { from: crimped('A', 'ring') })),
    coverings: [{ id: 'C', kind: 'pvc', part: 'sleeve', lengthMm: 333 }],
  };
  const none = OPERATION_NAMES.map((operation) => ({ operation, minutes: 0 }));

  test('are the user’s own where the setting says so, else defaults that say that they are', () => {
    const made = counted(loom, 1, { labourMinutes: [{ operation: 'crimping', minutes: 0.75 }] });
    const rows = new Map(made.operations.map((row) => [row.operation, row]));
    expect(rows.get('crimping')).toMatchObject({ count: 3, minutesEach: 0.75, minutes: 2.25 });
    expect(rows.get('crimping')).not.toHaveProperty('byDefault');
    for (const { operation, byDefault } of made.operations)
      expect([operation, byDefault]).toEqual([operation, operation === 'crimping' ? undefined : true]);
  });

  test('can all be 0', () => {
    expect(counted(loom, 4, { labourMinutes: none, firstLoomPercent: 300 })).toMatchObject({ minutes: 0 });
  });

  test('are rounded half-up in each row: 333 mm at 1.5 minutes a metre are 0.4995, so 0.50', () => {
    const made = counted(loom, 1, { labourMinutes: [{ operation: 'sleeveMetres', minutes: 1.5 }, ...none] });
    expect(made.minutes).toBe(0.5);
  });

  test('of a first loom are longer by its percentage, once however many are made alike', () => {
    // 3 crimps at 2 minutes are 6, a board 10: a half of 16 is 8.
    const settings: Settings = {
      firstLoomPercent: 150,
      labourMinutes: [{ operation: 'crimping', minutes: 2 }, { operation: 'board', minutes: 10 }, ...none],
    };
    for (const quantity of [1, 4]) {
      const { operations, minutes } = counted(loom, quantity, settings);
      expect(operations.at(-1)).toMatchObject({ operation: 'firstLoom', count: 1, minutes: 8 });
      expect(minutes).toBe(quantity * 6 + 10 + 8);
    }
  });

  test('are the sum of their rows, and a bought loom keeps those of taking off, fitting and testing', () => {
    const each = fc.integer({ min: 0, max: 99_999 }).map((hundredths) => hundredths / 100);
    const rules = fc.array(fc.record({ operation: fc.constantFrom(...OPERATION_NAMES), minutes: each }), {
      maxLength: 30,
    });
    const sleeveMm = fc.integer({ min: 1, max: 100_000 });
    fc.assert(
      fc.property(rules, sleeveMm, fc.integer({ min: 1, max: 50 }), (labourMinutes, lengthMm, quantity) => {
        const coverings = [{ id: 'C', kind: 'pvc' as const, part: 'sleeve', lengthMm }];
        const made = counted({ ...loom, coverings }, quantity, { labourMinutes });
        const hundredths = (minutes: number) => BigInt(Math.round(minutes * 100));
        const sum = (rows: typeof made.operations) =>
          rows.reduce((total, { minutes }) => total + hundredths(minutes), 0n);
        expect(sum(made.operations)).toBe(hundredths(made.minutes));
        const kept = made.operations.filter(({ operation }) =>
          ['takingOff', 'fitting', 'testingFitted'].includes(operation),
        );
        expect(sum(kept)).toBe(hundredths(made.minutesIfBought));
        for (const { operation, count, unit, minutesEach, minutes } of made.operations) {
          const rule = labourMinutes.find((one) => one.operation === operation);
          const defaults = OPERATION_NAMES.filter((name) => name === operation).map(
            (name) => operationOf(name).hundredths / 100,
          );
          expect(minutesEach).toBe(rule?.minutes ?? defaults[0]);
          const thousandths = BigInt(Math.round(count * 1000)) * hundredths(minutesEach);
          expect(unit === 'metre' || thousandths % 1000n === 0n).toBe(true);
          expect(hundredths(minutes)).toBe((thousandths + 500n) / 1000n);
        }
      }),
    );
  });
});
