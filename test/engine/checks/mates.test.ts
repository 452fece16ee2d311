import { describe, expect, test } from 'vitest';
import { fitsOf } from '../../../worker/engine/job/fits.ts';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf } from '../fixtures.ts';
import { foundIn, housingOf, told, type PartInput } from './told.ts';

type Fits = NonNullable<JobInput['fits']>;
type Housing = Parameters<typeof housingOf>[1];

/** Two halves plugged together, in one loom. */
const halves = (one: Housing, other: Housing, fits: Fits = []) =>
  jobOf({
    parts: [housingOf('one', one), housingOf('other', other)],
    fits,
    loom: {
      points: [
        { id: 'A', kind: 'connector', part: 'one', matedTo: { point: 'B' } },
        { id: 'B', kind: 'connector', part: 'other' },
      ],
    },
  });
const plug: Housing = { housingGender: 'plug', contactGender: 'female' };
const socket: Housing = { housingGender: 'socket', contactGender: 'male' };
const reasons = (...given: Parameters<typeof halves>) =>
  foundIn(halves(...given), 'does-not-mate').map(({ found }) => found.split(': ')[1]);
const fit = (status: 'proposed' | 'confirmed' | 'refuted', from = 'one', to = 'other'): Fits[number] => ({
  from,
  relation: 'mates',
  to,
  status,
});

describe('two halves', () => {
  test('of which one is a plug and the other a socket, with contacts to match, are in order', () => {
    expect(foundIn(halves(plug, socket))).toEqual([]);
    expect(foundIn(halves({}, {}))).toEqual([]);
    expect(
      foundIn(halves({ housingGender: 'none', contactGender: 'none' }, { housingGender: 'none' })),
    ).toEqual([]);
  });

  test('of one gender are stopped, the housing and the contacts in it told apart', () => {
    expect(foundIn(halves(plug, plug), 'does-not-mate')).toMatchObject([
      { severity: 'stop', subject: 'point:A', at: '/looms/0/points/0/matedTo' },
    ]);
    expect(reasons(plug, plug)).toEqual(['both housings are plugs; both hold female contacts']);
    expect(reasons(plug, { ...socket, contactGender: 'female' })).toEqual(['both hold female contacts']);
    expect(reasons(socket, { ...socket, contactGender: 'female' })).toEqual(['both housings are sockets']);
  });

  test('of unlike ways are stopped', () => {
    expect(reasons({ ways: 6 }, { ways: 4 })).toEqual(['6 ways against 4']);
  });

  test('are stopped where one names its mates, and neither names the other', () => {
    expect(reasons({ mates: ['third'] }, {})).toEqual(['neither names the other among its mates']);
    expect(reasons({ mates: ['other'] }, {})).toEqual([]);
    expect(reasons({}, { mates: ['one'] })).toEqual([]);
    expect(reasons({ mates: ['third'] }, {}, [fit('confirmed')])).toEqual([]);
    expect(reasons({ mates: ['third'] }, {}, [fit('proposed')])).toHaveLength(1);
  });

  test('that somebody tried and found not to fit are stopped, whichever half the fit is stated from', () => {
    expect(reasons({ ...plug, mates: ['other'] }, socket, [fit('refuted')])).toEqual([
      'tried and found not to fit',
    ]);
    expect(reasons(plug, socket, [fit('refuted', 'other', 'one')])).toHaveLength(1);
  });

  test('that are thought to fit are told with a note', () => {
    expect(foundIn(halves(plug, socket, [fit('proposed')]))).toMatchObject([
      { code: 'fit-not-confirmed', severity: 'note' },
    ]);
    expect(foundIn(halves(plug, socket, [fit('confirmed')]))).toEqual([]);
  });

  test('are told once where both say that they are plugged together, and over two looms', () => {
    const loom = (code: string, part: string, other: string) => ({
      code,
      name: code,
      points: [{ id: 'X', kind: 'connector' as const, part, matedTo: { loom: other, point: 'X' } }],
    });
    const parts: PartInput[] = [housingOf('one', plug), housingOf('other', plug)];
    const looms = [loom('l', 'one', 'm'), loom('m', 'other', 'l')];
    const both = jobOf({
      parts,
      looms,
      request: { looms: ['l', 'm'].map((code) => ({ loom: code, quantity: 1 })) },
    });
    expect(told(both)).toEqual(['does-not-mate point:X']);
    expect(foundIn(jobOf({ parts, looms }))).toMatchObject([{ code: 'mate-not-quoted', severity: 'note' }]);
  });

  test('of which the other loom has no such point are told', () => {
    const job = jobOf({
      parts: [housingOf('one', plug)],
      looms: [
        {
          code: 'l',
          name: 'l',
          points: [{ id: 'X', kind: 'connector', part: 'one', matedTo: { loom: 'm', point: 'Y' } }],
        },
        { code: 'm', name: 'm', points: [{ id: 'X', kind: 'breakout' }] },
      ],
      request: { looms: ['l', 'm'].map((code) => ({ loom: code, quantity: 1 })) },
    });
    expect(told(job)).toEqual(['mate-without-point point:X']);
  });
});

describe('a half that is plugged into two others', () => {
  const of = (kind: 'connector' | 'device', ...mates: [from: string, to: string][]) =>
    told(
      jobOf({
        loom: {
          points: ['A', 'B', 'C'].map((id) => {
            const to = mates.find(([from]) => from === id)?.[1];
            return { id, kind, ...(to === undefined ? {} : { matedTo: { point: to } }) };
          }),
        },
      }),
      'plugged-twice',
    );

  test('is told, whichever halves state it', () => {
    expect(of('connector', ['A', 'C'], ['B', 'C'])).toEqual(['plugged-twice point:B']);
    expect(of('connector', ['A', 'B'], ['B', 'C'])).toEqual(['plugged-twice point:B']);
  });

  test('is in order where both halves state the one pair, and where it is a device with several plugs', () => {
    expect(of('connector', ['A', 'B'], ['B', 'A'])).toEqual([]);
    expect(of('device', ['A', 'C'], ['B', 'C'])).toEqual([]);
  });

  test('is one half where two looms meet at it', () => {
    const loom = (code: string, more: object) => ({
      code,
      name: code,
      points: [
        { id: 'X', kind: 'connector' as const, matedTo: { loom: 'l', point: 'Y' }, ...more },
        ...(code === 'l' ? [{ id: 'Y', kind: 'connector' as const }] : [{ id: 'Z', kind: 'stud' as const }]),
      ],
    });
    const job = jobOf({
      looms: [loom('l', {}), loom('m', { suppliedByLoom: 'l' })],
      request: { looms: ['l', 'm'].map((code) => ({ loom: code, quantity: 1 })) },
    });
    expect(told(job)).toEqual([]);
  });
});

test('of a mating that is stated from both halves, refuted outweighs confirmed and that proposed, in any order', () => {
  const status = (...list: Fits) =>
    fitsOf(
      list.map(({ from, relation, to, status: known = 'proposed' }) => ({
        from,
        relation,
        to,
        status: known,
      })),
    ).status('one', 'mates', 'other');
  const back = (known: 'proposed' | 'confirmed' | 'refuted') => fit(known, 'other', 'one');
  expect(status(fit('confirmed'), back('refuted'))).toBe('refuted');
  expect(status(back('refuted'), fit('confirmed'))).toBe('refuted');
  expect(status(fit('proposed'), back('confirmed'))).toBe('confirmed');
  expect(status()).toBeUndefined();
});
