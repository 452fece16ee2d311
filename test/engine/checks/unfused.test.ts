import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { checkUnfused } from '../../../worker/engine/loom/checks/unfused.ts';
import { bare, wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Part = JobInput['parts'][number];
type Point = NonNullable<JobInput['looms'][number]['points']>[number];
type Wire = ReturnType<typeof wire>;

const PARTS: Part[] = [
  { kind: 'device', code: 'lamp', description: 'Lamp', deviceType: 'lamp' },
  { kind: 'device', code: 'switch', description: 'Switch', deviceType: 'switch', pins: ['1', '2'] },
  { kind: 'device', code: 'ignition', description: 'Switch', deviceType: 'switch', pins: ['a', 'b', 'c'] },
  {
    kind: 'device',
    code: 'fuse',
    description: 'Fuse',
    deviceType: 'fuse',
    ratedAmps: 10,
    fuseBasis: 'continuous',
  },
  { kind: 'terminal', code: 'clamp', description: 'Clamp', terminalType: 'battery' },
];
const crimp = (point: string, way?: string) => ({
  point,
  join: 'crimp' as const,
  ...(way === undefined ? {} : { way }),
});
const run = (id: string, from: Wire['from'], to: Wire['to'], more: Partial<Wire> = {}) =>
  wire(id, { from, to, ...more });
const check = (points: Point[], wires: Wire[]) =>
  checkUnfused(contextOf({ parts: PARTS, loom: { points, wires } }));

const battery: Point = { id: 'battery', kind: 'stud', feed: {} };
const lamp = (id = 'lamp'): Point => ({ id, kind: 'device', part: 'lamp' });

describe('a load that no fuse stands before', () => {
  test('is told once a circuit, with all loads of it', () => {
    const [finding, ...others] = check(
      [battery, lamp('left'), lamp('right'), { id: 'joint', kind: 'joint' }],
      [
        run('1', crimp('battery'), { point: 'joint', join: 'joint' }),
        run('2', { point: 'joint', join: 'joint' }, crimp('left')),
        run('3', { point: 'joint', join: 'joint' }, crimp('right')),
      ],
    );
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ code: 'no-fuse', severity: 'warning', subject: 'circuit:l/1' });
    expect(finding?.found).toBe('no fuse between the feed and left, right');
  });

  test('is told behind switches too, and not behind a fuse', () => {
    const over = (part: string, ways: [string, string]) =>
      inShort(
        check(
          [battery, { id: 'mid', kind: 'device', part }, lamp()],
          [run('1', crimp('battery'), crimp('mid', ways[0])), run('2', crimp('mid', ways[1]), crimp('lamp'))],
        ),
      );
    expect(over('switch', ['1', '2'])).toEqual(['no-fuse circuit:l/2']);
    expect(over('ignition', ['b', 'c'])).toEqual(['no-fuse circuit:l/2']);
    expect(over('fuse', ['1', '2'])).toEqual([]);
  });

  test('is not told where the wire states its fuse, or where one stands before the feed', () => {
    const fuse = { ratingAmps: 5, basis: 'continuous' as const };
    const to = (feed: object, more: Partial<Wire>) =>
      check(
        [{ id: 'battery', kind: 'stud', feed }, lamp()],
        [run('1', crimp('battery'), crimp('lamp'), more)],
      );
    expect(inShort(to({}, {}))).toEqual(['no-fuse circuit:l/1']);
    expect(to({}, { fuse })).toEqual([]);
    expect(to({ fuse }, {})).toEqual([]);
  });

  test('is not sought on the way to earth', () => {
    const found = check(
      [battery, lamp(), { id: 'fuse', kind: 'device', part: 'fuse' }, { id: 'earth', kind: 'stud' }],
      [
        run('1', crimp('battery'), crimp('fuse', '1')),
        run('2', crimp('fuse', '2'), crimp('lamp', '1')),
        run('3', crimp('lamp', '31'), crimp('earth'), { amps: 3 }),
      ],
    );
    expect(found).toEqual([]);
  });

  test('is known from a battery terminal on the live side, whichever post that is', () => {
    const found = check(
      [{ id: 'plus', kind: 'stud' }, { id: 'minus', kind: 'stud' }, { id: 'earth', kind: 'stud' }, lamp()],
      [
        run('1', { ...crimp('plus'), terminal: { part: 'clamp' } }, crimp('earth')),
        run('2', { ...crimp('minus'), terminal: { part: 'clamp' } }, crimp('lamp')),
      ],
    );
    expect(inShort(found)).toEqual(['no-fuse circuit:l/2']);
  });

  test('is known from a pin marked 30 alone only where no fuse and no way out of the loom is near', () => {
    const marked = (beyond: Point, more: Partial<Wire> = {}) =>
      inShort(
        check(
          [beyond, { id: 'switch', kind: 'device', part: 'switch', pins: ['30', '15'] }, lamp()],
          [
            run('1', crimp(beyond.id), crimp('switch', '30'), more),
            run('2', crimp('switch', '15'), crimp('lamp')),
          ],
        ),
      );
    expect(marked({ id: 'S', kind: 'stud' })).toEqual(['no-fuse circuit:l/2']);
    expect(marked({ id: 'S', kind: 'connector' })).toEqual(['feed-not-stated loom:l']);
    expect(marked({ id: 'S', kind: 'device', part: 'fuse' })).not.toContain('no-fuse circuit:l/2');
  });
});

describe('a loom of which nothing says where current comes in', () => {
  const feedless = (more: Partial<Wire>) =>
    check(
      [
        { id: 'A', kind: 'stud' },
        { id: 'B', kind: 'device' },
      ],
      [run('1', bare('A'), bare('B'), more), run('2', bare('A'), bare('B'), more)],
    );

  test('has one note where it states a current or a fuse', () => {
    const [note, ...others] = feedless({ amps: 3 });
    expect(others).toEqual([]);
    expect(note).toMatchObject({
      code: 'feed-not-stated',
      severity: 'note',
      subject: 'loom:l',
      at: '/looms/0',
    });
  });

  test('has none where there is nothing to fuse', () => {
    expect(feedless({})).toEqual([]);
  });
});
