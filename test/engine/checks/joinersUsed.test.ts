import { describe, expect, test } from 'vitest';
import { bare, consumable, jobOf, points, wire } from '../fixtures.ts';
import { foundIn, joinerOf } from './told.ts';

const joiner = joinerOf('j');

describe('a joiner', () => {
  test('at which only wires of the other loom end is no joiner without wires', () => {
    const job = jobOf({
      parts: [joiner],
      looms: [
        { code: 'front', name: 'front', points: [{ id: 'J', kind: 'joiner', part: 'j' }] },
        {
          code: 'rear',
          name: 'rear',
          points: [{ id: 'J', kind: 'joiner', part: 'j', suppliedByLoom: 'front' }, ...points('A')],
          wires: [wire('1', { from: bare('J'), to: bare('A') })],
        },
      ],
      request: { looms: ['front', 'rear'].map((loom) => ({ loom, quantity: 1 })) },
    });
    expect(foundIn(job)).toEqual([]);
  });

  test('that neither loom brings is told: nobody would buy it', () => {
    const of = (front: object[]) =>
      foundIn(
        jobOf({
          parts: [joiner, consumable('tie')],
          looms: [
            {
              code: 'front',
              name: 'front',
              options: ['tow'],
              points: [...points('A', 'B'), ...(front as { id: string; kind: 'joiner' }[])],
              wires: [wire('1')],
            },
            {
              code: 'rear',
              name: 'rear',
              points: [{ id: 'J', kind: 'joiner', part: 'j', suppliedByLoom: 'front' }, ...points('A')],
              wires: [wire('1', { from: bare('J'), to: bare('A') })],
            },
          ],
          request: { looms: ['front', 'rear'].map((loom) => ({ loom, quantity: 1 })) },
        }),
        'other-loom-without-part',
      );
    const J = { id: 'J', kind: 'joiner' };
    expect(of([])).toMatchObject([
      { severity: 'warning', subject: 'point:J', at: '/looms/1/points/1/suppliedByLoom' },
    ]);
    expect(of([{ ...J, part: 'j', options: ['tow'] }])).toHaveLength(1);
    expect(of([J])).toHaveLength(1);
    expect(of([{ ...J, part: 'tie' }])).toHaveLength(1);
    expect(of([{ ...J, part: 'j', suppliedByLoom: 'rear' }])).toHaveLength(2);
    expect(of([{ ...J, part: 'j' }])).toEqual([]);
  });
});
