import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
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
  const both = { parts: [...always.parts, { part: 'ring', quantity: 2, options: ['heater'] }] };
  const only = { parts: [{ part: 'ring', quantity: 1, options: ['heater'] }] };

  test('of which none is chosen are a note', () => {
    expect(of({ options: ['heater'], ...both })).toEqual(['options-not-chosen loom:l']);
    expect(of({ options: ['heater'], ...both }, ['heater'])).toEqual([]);
    expect(of(always)).toEqual([]);
  });

  test('that leave nothing of the loom are a warning', () => {
    expect(of({ options: ['heater', 'radio'], ...only })).toEqual(['nothing-with-options loom:l']);
    expect(of({ options: ['heater', 'radio'], ...only }, ['radio'])).toEqual(['nothing-with-options loom:l']);
    expect(of({ options: ['heater'], ...only }, ['heater'])).toEqual([]);
  });

  test('that nothing names are a note each, chosen or not; a choice is one, by all its options', () => {
    const idle = { options: ['heater', 'radio', 'LHD | RHD'], ...both };
    const notes = ['option-without-effect option:radio', 'option-without-effect option:LHD | RHD'];
    expect(of(idle, ['heater', 'RHD'])).toEqual(notes);
    expect(of(idle, ['radio', 'LHD'])).toEqual(notes);
    const left = { ...idle, parts: [...both.parts, { part: 'ring', quantity: 1, options: ['LHD'] }] };
    expect(of(left, ['heater', 'RHD'])).toEqual(['option-without-effect option:radio']);
  });

  test('that are chosen where all that is there with them asks for others too are a note', () => {
    const pair = {
      options: ['heater', 'radio'],
      parts: [...always.parts, { part: 'ring', quantity: 1, options: ['heater', 'radio'] }],
    };
    expect(of(pair, ['radio'])).toEqual(['option-without-effect option:radio']);
    expect(of(pair, ['heater', 'radio'])).toEqual([]);
  });

  test('that are not chosen are known of the job as it was worked too', () => {
    const job = jobOf({
      parts: [terminal('ring')],
      loom: { options: ['heater', 'radio'], ...both },
      request: { looms: [{ loom: 'l', quantity: 1 }] },
    });
    const worked = normaliseJob(job);
    expect(worked.looms[0]).toMatchObject({ optionsLeftOut: ['heater'], parts: [{ part: 'ring' }] });
    expect(normaliseJob(worked)).toEqual(worked);
    expect(told(worked)).toEqual(told(job));
  });
});
