import { expect, test } from 'vitest';
import { checkEarth } from '../../../worker/engine/loom/checks/earth.ts';
import { contextOf, inShort } from './contexts.ts';

const DEVICES = ['relay', 'flasher', 'diode', 'lamp', 'switch', 'ammeter', 'electronics'] as const;
type Made = 'negative' | 'positive' | 'either';
type Earth = Made | 'insulatedReturn';

const check = (earth: Exclude<Earth, 'either'>, deviceType: (typeof DEVICES)[number], madeForEarth?: Made) =>
  checkEarth(
    contextOf({
      parts: [
        {
          kind: 'device',
          code: 'd',
          description: 'Device',
          deviceType,
          ...(madeForEarth === undefined ? {} : { madeForEarth }),
        },
      ],
      loom: { earth, points: [{ id: 'P', kind: 'device', part: 'd' }] },
    }),
  );

test('a device made for the other earth is a stop, whatever it is', () => {
  for (const device of DEVICES) {
    expect(inShort(check('positive', device, 'negative'))).toEqual(['wrong-earth point:P']);
    expect(inShort(check('negative', device, 'positive'))).toEqual(['wrong-earth point:P']);
  }
  expect(check('positive', 'ammeter', 'negative')[0]).toMatchObject({
    severity: 'stop',
    at: '/looms/0/points/0/part',
  });
});

test('a device made for this earth or for either, and any where the return is insulated, is not cried', () => {
  for (const device of DEVICES) {
    expect(check('positive', device, 'positive')).toEqual([]);
    expect(check('negative', device, 'negative')).toEqual([]);
    expect(check('positive', device, 'either')).toEqual([]);
    expect(check('insulatedReturn', device, 'negative')).toEqual([]);
  }
});

test('that a part does not say is noted of diodes and electronics in positive earth alone', () => {
  const noted = DEVICES.filter((device) => check('positive', device).length > 0);
  expect(noted).toEqual(['diode', 'electronics']);
  expect(check('positive', 'diode')[0]).toMatchObject({ code: 'earth-not-stated', severity: 'note' });
  for (const device of DEVICES) expect(check('negative', device)).toEqual([]);
});
