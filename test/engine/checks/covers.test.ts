import { describe, expect, test } from 'vitest';
import { priced } from '../fixtures.ts';
import { connector, foundIn, inTerminal, terminalOf, told, wireOf, type PartInput } from './told.ts';

const cover = (code: string): PartInput => ({ kind: 'cover', code, description: `Cover ${code}` });
const boot = (boreMm: number): PartInput => ({ kind: 'boot', code: 'boot', description: 'Boot', boreMm });
const shared = (...covers: (string | undefined)[]) =>
  covers.map((part) =>
    inTerminal('ring', {
      sharesTerminal: 's',
      ...(part === undefined ? {} : { cover: { part } }),
    }),
  );
const parts = [terminalOf('ring'), cover('c'), cover('d')];

async function counted(...covers: (string | undefined)[]) {
  const { requirements } = await priced(connector(parts, shared(...covers)));
  return Object.fromEntries(
    requirements.flatMap((requirement) =>
      requirement.kind === 'count' && requirement.part !== 'ring'
        ? [[requirement.part, requirement.used]]
        : [],
    ),
  );
}

describe('a cover over a terminal that several ends share', () => {
  test('counts once, stated at one of them or at all', async () => {
    expect(await counted('c', undefined, undefined)).toEqual({ c: 1 });
    expect(await counted(undefined, 'c', undefined)).toEqual({ c: 1 });
    expect(await counted('c', 'c', 'c')).toEqual({ c: 1 });
  });

  test('counts at each end where the ends share no terminal', async () => {
    const { requirements } = await priced(
      connector(parts, [
        inTerminal('ring', { cover: { part: 'c' } }),
        inTerminal('ring', { cover: { part: 'c' } }),
      ]),
    );
    expect(requirements.find(({ id }) => id === 'part:c')).toMatchObject({ used: 2 });
  });

  test('that differs from end to end is asked about, and none is missing', async () => {
    expect(await counted('c', 'd', 'd')).toEqual({ c: 1, d: 1 });
    const job = connector(parts, shared('c', 'd'));
    expect(told(job, 'covers-differ')).toEqual(['covers-differ wire:W2:from']);
    expect(foundIn(job, 'covers-differ')).toMatchObject([
      {
        at: '/looms/0/wires/1/from/cover/part',
        found: 'd (buy) over a terminal for which loom l, wire W1, from states c (buy)',
      },
    ]);
    expect(told(connector(parts, shared('c', undefined, 'c')), 'covers-differ')).toEqual([]);
  });

  test('bought at one end and reused at the other is bought, and asked about', async () => {
    const ends = [
      inTerminal('ring', { sharesTerminal: 's', cover: { part: 'c', supply: 'reuse' as const } }),
      inTerminal('ring', { sharesTerminal: 's', cover: { part: 'c' } }),
    ];
    const job = connector(parts, ends);
    const { requirements, leftOut } = await priced(job);
    expect(requirements.find(({ id }) => id === 'part:c')).toMatchObject({ used: 1 });
    expect(leftOut).toEqual([]);
    expect(foundIn(job, 'covers-differ')).toMatchObject([{ at: '/looms/0/wires/1/from/cover/supply' }]);
  });

  test('goes over all its wires: two of 2 mm are 4 mm across', () => {
    const over = (boreMm: number, ends: number) =>
      told(
        connector(
          [terminalOf('ring'), boot(boreMm), wireOf(2)],
          shared(...['boot', undefined].slice(0, ends)),
        ),
        'cover-too-small',
      );
    expect(over(3.9, 2)).toEqual(['cover-too-small wire:W1:from']);
    expect(over(4, 2)).toEqual([]);
    expect(over(2, 1)).toEqual([]);
    expect(over(1.9, 1)).toEqual(['cover-too-small wire:W1:from']);
  });
});
