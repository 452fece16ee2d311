import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { checkEarth } from '../../../worker/engine/loom/checks/earth.ts';
import { wire } from '../fixtures.ts';
import { contextOf, inShort } from './contexts.ts';

type Loom = JobInput['looms'][number];
type DeviceType = Extract<JobInput['parts'][number], { kind: 'device' }>['deviceType'];

const end = (point: string, way?: string) => ({
  point,
  join: 'crimp' as const,
  ...(way === undefined ? {} : { way }),
});

/** A device between the feed and the earth stud: which pin is at the feed, which at earth; none: that pin has no wire. */
const between = (
  deviceType: DeviceType,
  { live, earth }: { live?: string; earth?: string },
  { polarity = 'negative', coil }: { polarity?: Loom['earth']; coil?: string } = {},
) =>
  checkEarth(
    contextOf({
      parts: [{ kind: 'device', code: 'd', description: 'Device', deviceType }],
      loom: {
        earth: polarity,
        points: [
          { id: 'feed', kind: 'stud', feed: {} },
          { id: 'earth', kind: 'stud' },
          { id: 'D', kind: 'device', part: 'd' },
          { id: 'coil', kind: 'device' },
        ],
        wires: [
          ...(live === undefined ? [] : [wire('1', { from: end('feed'), to: end('D', live) })]),
          ...(earth === undefined ? [] : [wire('2', { from: end('D', earth), to: end('earth') })]),
          ...(coil === undefined
            ? []
            : [
                wire('3', { from: end('D', coil), to: end('coil', '2') }),
                wire('4', { from: end('feed'), to: end('coil', '1') }),
              ]),
        ],
      },
    }),
  );

describe('electronics and flashers', () => {
  test.each(['electronics', 'flasher'] as const)(
    'a %s has plus at the feed where minus is earthed',
    (type) => {
      expect(between(type, { live: '+', earth: '-' })).toEqual([]);
      const [finding, ...others] = between(type, { live: '−', earth: '+' });
      expect(others).toEqual([]);
      expect(finding).toMatchObject({
        code: 'wrong-way-round',
        severity: 'stop',
        subject: 'point:D',
        limit: 'positive at positive',
      });
    },
  );

  test.each(['electronics', 'flasher'] as const)(
    'a %s has minus at the feed where plus is earthed',
    (type) => {
      expect(between(type, { live: '-', earth: '+' }, { polarity: 'positive' })).toEqual([]);
      expect(inShort(between(type, { live: '+', earth: '-' }, { polarity: 'positive' }))).toEqual([
        'wrong-way-round point:D',
      ]);
    },
  );

  test('one pin with a wire is enough, and pins that say nothing are not cried', () => {
    expect(inShort(between('electronics', { earth: '+' }))).toEqual(['wrong-way-round point:D']);
    expect(inShort(between('electronics', { live: '-' }))).toEqual(['wrong-way-round point:D']);
    expect(between('electronics', { live: '1', earth: '2' })).toEqual([]);
    expect(between('lamp', { live: '-', earth: '+' })).toEqual([]);
    expect(between('electronics', { live: '-', earth: '+' }, { polarity: 'insulatedReturn' })).toEqual([]);
  });
});

describe('a diode', () => {
  // It conducts from anode to cathode: between the poles it must lie the other way.
  test('between the two poles has its cathode at plus', () => {
    expect(between('diode', { live: 'K', earth: 'A' })).toEqual([]);
    expect(between('diode', { live: 'A', earth: 'K' })[0]).toMatchObject({
      code: 'wrong-way-round',
      severity: 'stop',
    });
    expect(between('diode', { live: 'A', earth: 'K' }, { polarity: 'positive' })).toEqual([]);
    expect(inShort(between('diode', { live: 'K', earth: 'A' }, { polarity: 'positive' }))).toEqual([
      'wrong-way-round point:D',
    ]);
  });

  test('in a feed is fed at its anode; fed at the cathode alone it blocks, unless it lies across a coil', () => {
    expect(between('diode', { live: 'A' })).toEqual([]);
    expect(inShort(between('diode', { live: 'K' }))).toEqual([]);
    expect(
      inShort(
        checkEarth(
          contextOf({
            parts: [{ kind: 'device', code: 'd', description: 'Diode', deviceType: 'diode' }],
            loom: {
              points: [
                { id: 'feed', kind: 'stud', feed: {} },
                { id: 'D', kind: 'device', part: 'd' },
                { id: 'lamp', kind: 'device' },
              ],
              wires: [
                wire('1', { from: end('feed'), to: end('D', 'K') }),
                wire('2', { from: end('D', 'A'), to: end('lamp', '1') }),
              ],
            },
          }),
        ),
      ),
    ).toEqual(['wrong-way-round point:D']);
    expect(between('diode', { live: 'K' }, { coil: 'A' })).toEqual([]);
  });
});

test('where the part says nothing, pins and wires answer what a loom of positive earth asks', () => {
  const asked = (pins: { live?: string; earth?: string }) =>
    inShort(between('diode', pins, { polarity: 'positive' }));
  expect(asked({})).toEqual(['earth-not-stated point:D']);
  expect(asked({ live: '1', earth: '2' })).toEqual(['earth-not-stated point:D']);
  expect(asked({ live: 'A', earth: 'K' })).toEqual([]);
});

test('an ammeter has the battery at minus where minus is earthed, at plus where plus is', () => {
  const meter = (battery: string, polarity: 'negative' | 'positive') =>
    inShort(
      checkEarth(
        contextOf({
          parts: [{ kind: 'device', code: 'd', description: 'Ammeter', deviceType: 'ammeter' }],
          loom: {
            earth: polarity,
            points: [
              { id: 'feed', kind: 'stud', feed: {} },
              { id: 'D', kind: 'device', part: 'd' },
              { id: 'box', kind: 'device' },
            ],
            wires: [
              wire('1', { from: end('feed'), to: end('D', battery) }),
              wire('2', { from: end('D', battery === '+' ? '-' : '+'), to: end('box') }),
            ],
          },
        }),
      ),
    );
  expect(meter('-', 'negative')).toEqual([]);
  expect(meter('+', 'positive')).toEqual([]);
  expect(meter('+', 'negative')).toEqual(['wrong-way-round point:D']);
  expect(meter('-', 'positive')).toEqual(['wrong-way-round point:D']);
});
