import { describe, expect, test } from 'vitest';
import { LoomRevision } from '../../worker/engine/model/loom.ts';
import { quoteText } from '../../worker/sheets/quoteText.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import { bought, jobOf, pack, priced, supplier } from './fixtures.ts';

type PointInput = NonNullable<JobInput['looms'][number]['points']>[number];
type DeviceType = Extract<JobInput['parts'][number], { kind: 'device' }>['deviceType'];
type Settings = NonNullable<JobInput['looms'][number]['settings']>;

const point = (part: string, more: Partial<PointInput> = {}): PointInput => ({
  id: 'P',
  kind: 'device',
  part,
  ...more,
});

function job(
  deviceType: DeviceType,
  at: PointInput,
  where: { club?: Settings; loom?: Settings; quote?: Settings } = {},
) {
  return jobOf({
    club: { currency: 'GBP', settings: { besideSeconds: 0, ...where.club } },
    parts: [
      { kind: 'device', code: 'device', description: 'Device', deviceType },
      { kind: 'housing', code: 'plug', description: 'Plug', ways: 2 },
    ],
    suppliers: [supplier('s')],
    offers: [pack('d', 's', 'device', 1, '5'), pack('p', 's', 'plug', 1, '1')],
    loom: { points: [at], ...(where.loom ? { settings: where.loom } : {}) },
    request: { looms: [{ loom: 'l', quantity: 1 }], ...(where.quote ? { settings: where.quote } : {}) },
  });
}

const buys = async (...given: Parameters<typeof job>) => bought(await priced(job(...given)));

describe('a device of which the loom does not say where it comes from', () => {
  test('is not bought in silence: it is reused, and the result says by which setting', async () => {
    const result = await priced(job('relay', point('device')));
    expect(bought(result)).toEqual({});
    expect(result.leftOut).toEqual([
      {
        label: 'Device',
        part: 'device',
        supply: 'reuse',
        bySetting: 'deviceSupply',
        quantity: 1,
        where: [{ loom: 'l', where: 'point P' }],
      },
    ]);
    expect(result.settings['deviceSupply']).toEqual({ value: 'reuse', origin: 'default' });
    expect(quoteText(result, '')).toContain('reused from the old loom, by the setting deviceSupply');
  });

  test('is bought where the setting says so; the quote’s goes before the loom’s, and that before the club’s', async () => {
    const club = { deviceSupply: 'buy' as const };
    const other = { deviceSupply: 'ownerSupplies' as const };
    expect(await buys('relay', point('device'), { club })).toEqual({ d: 1 });
    expect(await buys('relay', point('device'), { club, loom: other })).toEqual({});
    expect(await buys('relay', point('device'), { club: other, loom: other, quote: club })).toEqual({ d: 1 });
  });

  test.each(['fuseHolder', 'relay', 'flasher', 'lamp', 'switch', 'ammeter', 'electronics', 'other'] as const)(
    'is left out where it is a %s',
    async (deviceType) => {
      expect(await buys(deviceType, point('device'))).toEqual({});
    },
  );

  test('is bought where it is a fuse, which is used up', async () => {
    expect(await buys('fuse', point('device'))).toEqual({ d: 1 });
  });
});

test('a device that is stated to be bought is bought, and one stated to be reused stays, whatever the setting says', async () => {
  expect(await buys('relay', point('device', { supply: 'buy' }))).toEqual({ d: 1 });
  const club = { deviceSupply: 'buy' as const };
  const result = await priced(job('relay', point('device', { supply: 'reuse' }), { club }));
  expect(bought(result)).toEqual({});
  expect(result.leftOut[0]).not.toHaveProperty('bySetting');
});

test('what is no device is bought where nothing is stated, at a device too', async () => {
  expect(await buys('relay', point('plug'))).toEqual({ p: 1 });
});

test('a revision keeps what it does not say, so that a setting of later still holds for it', () => {
  const stored = LoomRevision.parse({ name: 'L', points: [point('device')] });
  expect(stored.points[0]).not.toHaveProperty('supply');
});
