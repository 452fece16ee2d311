import { describe, expect, test } from 'vitest';
import { jobOf, points, terminal, wire } from '../fixtures.ts';
import { foundIn, told, type LoomInput } from './told.ts';

const branch = (id: string, from: string, to: string) => ({ id, from, to, lengthMm: 500 });

describe('branches in a loop', () => {
  const of = (...branches: NonNullable<LoomInput['branches']>) =>
    foundIn(jobOf({ loom: { points: points('A', 'B', 'C', 'D', 'E'), branches } }), 'branches-loop');

  test('are a note that names them, without the branches that lead away', () => {
    const round = [branch('b1', 'A', 'B'), branch('b2', 'B', 'C'), branch('b3', 'C', 'A')];
    expect(of(...round, branch('b4', 'C', 'D'), branch('b5', 'D', 'E'))).toMatchObject([
      { severity: 'note', subject: 'loom:l', found: 'a loop among branches b1, b2, b3' },
    ]);
    expect(of(branch('b1', 'A', 'B'), branch('b2', 'B', 'A'))).toHaveLength(1);
  });

  test('are not told of a tree, or of two trees', () => {
    expect(of(branch('b1', 'A', 'B'), branch('b2', 'B', 'C'), branch('b3', 'B', 'D'))).toEqual([]);
    expect(of(branch('b1', 'A', 'B'), branch('b2', 'C', 'D'))).toEqual([]);
  });
});

describe('a circuit with two names', () => {
  const of = (one: string | undefined, other: string | undefined, share = true) =>
    told(
      jobOf({
        loom: {
          points: points('A', 'B', 'C'),
          wires: [
            wire('W1', {
              from: { point: 'A', join: 'solder', ...(share ? { sharesTerminal: 'x' } : {}) },
              ...(one === undefined ? {} : { circuit: one }),
            }),
            wire('W2', {
              from: { point: 'A', join: 'solder', ...(share ? { sharesTerminal: 'x' } : {}) },
              to: { point: 'C', join: 'bare' },
              ...(other === undefined ? {} : { circuit: other }),
            }),
          ],
        },
      }),
      'circuit-named-twice',
    );

  test('is a note, named by its first wire', () => {
    expect(of('stop', 'tail')).toEqual(['circuit-named-twice circuit:l/W1']);
  });

  test('is in order with one name, or none, or where the wires are not joined', () => {
    expect(of('stop', 'stop')).toEqual([]);
    expect(of('stop', undefined)).toEqual([]);
    expect(of('stop', 'tail', false)).toEqual([]);
  });
});

describe('options', () => {
  const of = (loom: Partial<LoomInput>, chosen?: string[]) =>
    told(
      jobOf({
        parts: [terminal('ring')],
        loom,
        request: { looms: [{ loom: 'l', quantity: 1, ...(chosen ? { options: chosen } : {}) }] },
      }),
    );
  const always = { parts: [{ part: 'ring', quantity: 1 }] };
  const only = { parts: [{ part: 'ring', quantity: 1, options: ['heater'] }] };

  test('of which none is chosen are a note', () => {
    expect(of({ options: ['heater'], ...always })).toEqual(['options-not-chosen loom:l']);
    expect(of({ options: ['heater'], ...always }, ['heater'])).toEqual([]);
    expect(of(always)).toEqual([]);
  });

  test('that leave nothing of the loom are a warning', () => {
    expect(of({ options: ['heater', 'radio'], ...only })).toEqual(['nothing-with-options loom:l']);
    expect(of({ options: ['heater', 'radio'], ...only }, ['radio'])).toEqual(['nothing-with-options loom:l']);
    expect(of({ options: ['heater', 'radio'], ...only }, ['heater'])).toEqual([]);
  });
});
