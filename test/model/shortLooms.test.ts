import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { Loom } from '../../worker/engine/model/loom.ts';
import { Money } from '../../worker/engine/model/money.ts';
import { Size, sizeLabel } from '../../worker/engine/model/size.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { fullJob } from './documents.ts';
import { endShort, fuseShort, lengthShort } from '../../worker/engine/model/short/loomForms.ts';
import { read, refusal } from './shortReading.ts';

describe('a wire of a loom', () => {
  const loom = (wire: object, points: string[] = ['headlamp', 'earth']) => ({
    code: 'front',
    name: 'Front',
    colourSystem: 'bsAu7',
    points: points.map((id) => ({ id, kind: 'device' })),
    branches: [{ id: 'B1', from: points[0], to: 'earth', lengthMm: 500 }],
    wires: [
      {
        id: 'W1',
        cableType: 'pvc',
        size: '14/0.30',
        colour: 'GW',
        from: 'headlamp.56b',
        to: 'earth',
        length: 620,
        ...wire,
      },
    ],
  });
  const wireOf = (wire: object, points?: string[]) =>
    read(Loom, loom(wire, points)) as z.infer<typeof Loom> & { todo?: string };

  test('is taken in the fewest words, and stored in long form', () => {
    expect(
      wireOf({
        via: 'B1',
        fuse: '15 A continuous',
        from: { point: 'headlamp', way: '56b', join: 'crimp', terminal: 'blade' },
      }).wires?.[0] ?? {},
    ).toMatchObject({
      size: { system: 'metricStrands', strands: 14, strandMm: 0.3 },
      colour: { base: 'green', tracer: 'white' },
      length: { mm: 620, basis: 'route' },
      via: ['B1'],
      fuse: { ratingAmps: 15, basis: 'continuous' },
      from: { terminal: { part: 'blade', supply: 'buy' } },
      to: { point: 'earth' },
    });
  });

  test.each([
    ['620', { mm: 620, basis: 'route' }],
    ['1.2 m', { mm: 1200, basis: 'route' }],
    ['62 cm', { mm: 620, basis: 'route' }],
    ['620 mm, tip to tip', { mm: 620, basis: 'tipToTip' }],
  ])('has the length %s', (length, long) => {
    expect(wireOf({ length }).wires[0]?.length).toEqual(long);
  });

  test('a length in inches is told in millimetres', () => {
    expect(refusal(Loom, loom({ length: '24 1/2 in' })).todo).toContain('"622"');
  });

  test('a fuse that does not say which of its two figures it is, is refused with both', () => {
    expect(refusal(Loom, loom({ fuse: '35 A' })).limit).toBe('one of: 35 A continuous | 35 A blow');
  });

  test.each([
    { mm: 620, basis: 'route' },
    { mm: 1, basis: 'tipToTip' },
    { mm: 99_999, basis: 'sheathToSheath' },
  ] as const)('a length as it is written is read back: %o', (length) => {
    expect(wireOf({ length: lengthShort(length) }).wires[0]?.length).toEqual(length);
  });

  test.each([
    { ratingAmps: 17.5, basis: 'continuous' },
    { ratingAmps: 35, basis: 'blow' },
  ])('a fuse as it is written is read back: %o', (fuse) => {
    expect(wireOf({ fuse: fuseShort(fuse, {}) }).wires[0]?.fuse).toEqual(fuse);
  });

  test.each([{ point: 'headlamp', way: '56b' }, { point: 'earth' }])(
    'an end as it is written is read back: %o',
    (end) => {
      expect(wireOf({ from: endShort(end) }).wires[0]?.from).toEqual(end);
    },
  );

  test('an end is read by the points that the loom has', () => {
    expect(wireOf({ from: 'a.b.2' }, ['a.b', 'earth']).wires[0]?.from).toMatchObject({
      point: 'a.b',
      way: '2',
    });
    expect(wireOf({ from: 'a.b.2' }, ['a.b.2', 'earth']).wires[0]?.from).toMatchObject({ point: 'a.b.2' });
    const told = refusal(Loom, loom({ from: 'a.b.2' }, ['a.b', 'a', 'earth']));
    expect([told.code, told.limit]).toEqual([
      'two-readings',
      'one of: way b.2 of the point a | way 2 of the point a.b',
    ]);
  });
});

describe('a job', () => {
  test('in short forms is the job in long ones, field by field', () => {
    const long = fullJob();
    const short = structuredClone(long) as unknown as Record<string, never>;
    shorten(short);
    const [a, b] = [readJob(long), readJob(short)];
    expect(b.error?.issues).toBeUndefined();
    expect(b.data).toEqual(a.data);
    expect(JSON.stringify(short).length).toBeLessThan(JSON.stringify(long).length);
  });

  const wireOffer = (part: string) => ({
    form: 'metre',
    code: 'by-words',
    supplier: fullJob().suppliers[0]?.code,
    part,
    pricePerMetre: 0.31,
  });
  const withOffer = (part: string, more: object = {}) => {
    const job = fullJob();
    return readJob({ ...job, ...more, offers: [...job.offers, wireOffer(part)] });
  };

  test('has a wire part for an offer that names its wire by size and colour', () => {
    const job = withOffer('pvc-vehicle 65/0.30 light green/black').data;
    expect(job?.parts.find(({ code }) => code === 'pvc-vehicle-65-0.30-light-green-black')).toEqual({
      kind: 'wire',
      code: 'pvc-vehicle-65-0.30-light-green-black',
      description: 'PVC vehicle cable 65/0.30 light green with black tracer',
      cableType: 'pvc-vehicle',
      size: { system: 'metricStrands', strands: 65, strandMm: 0.3 },
      colour: { base: 'lightGreen', tracer: 'black' },
    });
    expect(job?.offers.at(-1)).toMatchObject({ part: 'pvc-vehicle-65-0.30-light-green-black' });
  });

  test('takes the one part that is that wire, by whichever mark it is called', () => {
    const part = {
      kind: 'wire',
      code: 'own',
      description: 'Own',
      cableType: 'odd',
      size: '44/0.30',
      colour: 'brown',
    } as const;
    const parts = [...fullJob().parts, part];
    // n/.012 is sold as n/0.30: the trade's table, see worker/engine/trade/wireSizes.
    expect(withOffer('odd 44/.012 brown', { parts }).data?.offers.at(-1)).toMatchObject({ part: 'own' });
    const twice = { parts: [...parts, { ...part, code: 'other' }] };
    expect(withOffer('odd 44/0.30 brown', twice).error?.issues[0]).toMatchObject({
      params: { code: 'two-readings', readings: ['own', 'other'] },
    });
  });

  test('says once what holds for all its offers', () => {
    const job = { ...fullJob(), offerDefaults: { condition: 'used', seenOn: '2026-01-02' } };
    const read = readJob(job);
    expect(read.success && read.data.offers.every(({ seenOn }) => seenOn !== undefined)).toBe(true);
    expect(read.data && 'offerDefaults' in read.data).toBe(false);
    const euros = withOffer('pvc-vehicle 65/0.30 red', { offerDefaults: { currency: 'EUR' } }).data;
    expect(euros?.offers.at(-1)).toMatchObject({ pricePerMetre: { amount: '0.31', currency: 'EUR' } });
  });
});

/** Sizes, colours, moneys in a document as their short forms, where these are unambiguous. */
function shorten(value: unknown): void {
  if (typeof value !== 'object' || value === null) return;
  const holder = value as Record<string, unknown>;
  for (const [key, inner] of Object.entries(holder)) {
    const size = key === 'size' ? Size.safeParse(inner) : undefined;
    const money = Money.safeParse(inner);
    if (size?.success) holder[key] = sizeLabel(size.data);
    else if (money.success) holder[key] = `${money.data.amount} ${money.data.currency}`;
    else if (key === 'terminal' && typeof inner === 'object' && Object.keys(inner ?? {}).join() === 'part')
      holder[key] = (inner as { part: string }).part;
    else shorten(inner);
  }
}
