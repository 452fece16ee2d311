import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf, wire } from '../fixtures.ts';
import { connector, foundIn, housingOf, inTerminal, joinerOf, sealOf, terminalOf, told } from './told.ts';

type Fits = NonNullable<JobInput['fits']>;
type Status = 'proposed' | 'confirmed' | 'refuted';

const family = (code: string | undefined) => (code === undefined ? {} : { family: code });

/** Two wires in terminals of one family, in a housing of another. */
const job = (terminal: string | undefined, housing: string | undefined, fits: Fits = []) =>
  connector(
    [terminalOf('t', family(terminal)), housingOf('h', family(housing))],
    [inTerminal('t'), inTerminal('t')],
    { part: 'h' },
    { fits },
  );
const takes = (status: Status): Fits => [{ from: 'h', relation: 'takes', to: 't', status }];

describe('a terminal of another family than its housing', () => {
  test('is stopped, once for all the ends that name it', () => {
    expect(foundIn(job('tail-6', 'nose-6'))).toMatchObject([
      {
        code: 'not-of-family',
        severity: 'stop',
        subject: 'part:t@A',
        at: '/looms/0/wires/0/from/terminal/part',
      },
    ]);
    expect(foundIn(job('nose-6', 'nose-6'))).toEqual([]);
  });

  test('is not told where a family is not stated', () => {
    expect(foundIn(job(undefined, 'nose-6'))).toEqual([]);
    expect(foundIn(job('tail-6', undefined))).toEqual([]);
  });

  test('is in order where somebody tried it and confirms that it fits; to think so is not enough', () => {
    expect(foundIn(job('tail-6', 'nose-6', takes('confirmed')))).toEqual([]);
    expect(foundIn(job('tail-6', 'nose-6', takes('proposed')))).toMatchObject([
      { code: 'not-of-family', severity: 'stop' },
    ]);
  });
});

describe('a fit', () => {
  test('that was refuted stops the reader, though the families agree', () => {
    expect(foundIn(job('nose-6', 'nose-6', takes('refuted')))).toMatchObject([
      { code: 'fit-refuted', severity: 'stop', subject: 'part:t@A' },
    ]);
  });

  test('that is only proposed is a note', () => {
    expect(foundIn(job(undefined, undefined, takes('proposed')))).toMatchObject([
      { code: 'fit-not-confirmed', severity: 'note', subject: 'part:t@A' },
    ]);
  });

  test('of a seal or cover is looked for with the housing and with the terminal', () => {
    const of = (fits: Fits, sealFamily = 'nose-6') =>
      told(
        connector(
          [
            terminalOf('t'),
            housingOf('h', { family: 'nose-6' }),
            sealOf('s', { family: sealFamily }),
            { kind: 'cover', code: 'c', description: 'Cover' },
          ],
          [inTerminal('t', { seal: { part: 's' }, cover: { part: 'c' } })],
          { part: 'h' },
          { fits },
        ),
      );
    expect(of([])).toEqual([]);
    expect(of([], 'tail-6')).toEqual(['not-of-family part:s@A']);
    expect(of([{ from: 's', relation: 'seals', to: 'h', status: 'refuted' }])).toEqual([
      'fit-refuted part:s@A',
    ]);
    expect(of([{ from: 's', relation: 'seals', to: 't', status: 'confirmed' }], 'tail-6')).toEqual([]);
    expect(of([{ from: 'c', relation: 'covers', to: 't', status: 'refuted' }])).toEqual([
      'fit-refuted part:c@A',
    ]);
    // The other way round it says nothing of this.
    expect(of([{ from: 'h', relation: 'seals', to: 's', status: 'refuted' }])).toEqual([]);
  });

  test('of a terminal in a joiner is looked for too, and there families do not matter', () => {
    const of = (fits: Fits) =>
      told(
        jobOf({
          parts: [terminalOf('t', { family: 'a' }), joinerOf('j', { family: 'b' })],
          fits,
          loom: {
            points: [
              { id: 'J', kind: 'joiner', part: 'j' },
              { id: 'Z', kind: 'flyingLead' },
            ],
            wires: [
              wire('W1', {
                from: { point: 'J', join: 'crimp', terminal: { part: 't' } },
                to: { point: 'Z', join: 'bare' },
              }),
            ],
          },
        }),
      );
    expect(of([])).toEqual([]);
    expect(of([{ from: 'j', relation: 'takes', to: 't', status: 'refuted' }])).toEqual([
      'fit-refuted part:t@J',
    ]);
  });
});

test('contacts of another gender than the housing holds are stopped: a plug taken for a socket', () => {
  const of = (
    gender: 'male' | 'female' | 'none' | undefined,
    contactGender: 'male' | 'female' | 'none' | undefined,
  ) =>
    told(
      connector(
        [
          terminalOf('t', gender === undefined ? {} : { gender }),
          housingOf('h', contactGender === undefined ? {} : { contactGender }),
        ],
        [inTerminal('t'), inTerminal('t')],
        { part: 'h' },
      ),
    );
  expect(of('male', 'female')).toEqual(['contact-gender part:t@A']);
  expect(of('female', 'male')).toEqual(['contact-gender part:t@A']);
  expect(of('male', 'male')).toEqual([]);
  expect(of('none', 'male')).toEqual([]);
  expect(of('male', 'none')).toEqual([]);
  expect(of(undefined, 'male')).toEqual([]);
  expect(of('male', undefined)).toEqual([]);
});
