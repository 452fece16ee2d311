import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { bare, jobOf, wire } from '../fixtures.ts';
import {
  foundIn,
  housingOf,
  inTerminal,
  joinerOf,
  terminalOf,
  type EndInput,
  type WireInput,
} from './told.ts';

const cover = (code: string) => ({ kind: 'cover' as const, code, description: `Cover ${code}` });
const PARTS = [
  terminalOf('blade', { gender: 'female' }),
  terminalOf('bullet', { terminalType: 'bullet' }),
  terminalOf('ring', { terminalType: 'ring' }),
  cover('hood'),
  cover('sock'),
  housingOf('row'),
  joinerOf('sleeve'),
];
const COVERS = [
  { from: 'hood', relation: 'covers' as const, to: 'blade' },
  { from: 'sock', relation: 'covers' as const, to: 'bullet' },
];

/** Wires from these ends, each to a way of its own of the flying lead Z. */
const jobWith = (ends: Partial<EndInput>[], more: Partial<JobInput> = {}, each: Partial<WireInput> = {}) =>
  jobOf({
    parts: PARTS,
    fits: COVERS,
    loom: {
      points: [
        { id: 'D', kind: 'device' },
        { id: 'J', kind: 'joiner', part: 'sleeve' },
        { id: 'H', kind: 'connector', part: 'row' },
        { id: 'earth-1', kind: 'stud' },
        { id: 'S', kind: 'stud', label: 'Earth stud under the dash' },
        { id: 'battery', kind: 'stud', label: 'Battery, negative post (positive earth)' },
        { id: 'Z', kind: 'flyingLead' },
      ],
      wires: ends.map((from, index) =>
        wire(`W${index + 1}`, {
          from: { point: 'D', join: 'crimp', ...from },
          to: { ...bare('Z'), way: `${index + 1}` },
          ...each,
        }),
      ),
    },
    ...more,
  });
const found = (...of: Parameters<typeof jobWith>) => foundIn(jobWith(...of), 'terminals-uncovered');

const blade = inTerminal('blade');

describe('blades and bullets without a cover', () => {
  test('are one note a loom, with their count, where the catalogue has a cover for them', () => {
    const [note, ...others] = found([blade, blade, inTerminal('bullet'), inTerminal('ring')]);
    expect(others).toEqual([]);
    expect(note).toMatchObject({
      severity: 'note',
      subject: 'loom:l',
      at: '/looms/0/wires/0/from',
      found:
        '3 live blades or bullets without a cover: 2 of blade, for which there is hood, 1 of bullet, for which there is sock; at W1 from, W2 from, W3 from',
    });
  });

  test('are not told where a cover is named, or by another end of the terminal that they share', () => {
    const covered = inTerminal('blade', { cover: { part: 'hood' } });
    expect(found([covered])).toEqual([]);
    expect(
      found([
        { ...covered, sharesTerminal: 'x' },
        { join: 'crimp', sharesTerminal: 'x' },
      ]),
    ).toEqual([]);
  });

  test('are not told where no cover is known, or it was tried and did not fit', () => {
    expect(found([blade], { fits: [] })).toEqual([]);
    expect(found([blade], { fits: [{ ...COVERS[0], status: 'refuted' } as never] })).toEqual([]);
    expect(found([inTerminal('ring')], { fits: [{ from: 'hood', relation: 'covers', to: 'ring' }] })).toEqual(
      [],
    );
  });

  test('are told where another end of the loom wears a cover over the same terminal', () => {
    const covered = inTerminal('blade', { cover: { part: 'hood' } });
    expect(found([covered, blade], { fits: [] })).toHaveLength(1);
    expect(found([covered, inTerminal('bullet')], { fits: [] })).toEqual([]);
  });

  test('lie inside a housing or a joiner, and are not told', () => {
    expect(found([{ ...blade, point: 'H' }, inTerminal('bullet', { point: 'J' })])).toEqual([]);
  });

  test('may be open on earth, where that is known: a circuit or stud named so, or pin 31 (DIN 72552)', () => {
    const to = (point: string) => found([blade], {}, { to: bare(point) });
    expect(found([blade], {}, { circuit: 'earth' })).toEqual([]);
    expect(found([{ ...blade, way: '31' }])).toEqual([]);
    expect(to('earth-1')).toEqual([]);
    expect(to('S')).toEqual([]);
    expect(to('battery')).toHaveLength(1);
    expect(found([{ ...blade, way: '30' }])).toHaveLength(1);
    expect(found([blade], {}, { circuit: 'earthing relay' })).toHaveLength(1);
  });

  test('are live on both sides where the return is insulated', () => {
    const job = jobWith([{ ...blade, way: '31' }]);
    for (const loom of job.looms) loom.earth = 'insulatedReturn';
    expect(foundIn(job, 'terminals-uncovered')).toHaveLength(1);
  });
});
