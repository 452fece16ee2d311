import { describe, expect, it } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { Loom, LoomRevision, PointKind } from '../../worker/engine/model/loom.ts';
import { Supply } from '../../worker/engine/model/supply.ts';
import { Condition, Offer, offerParts } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { everyPart, fullJob, newLoom, oldLoom } from './documents.ts';
import { jobFaults } from './jobFaults.ts';
import { changed } from './pointing.ts';

describe('a job of an old and a new loom', () => {
  it('is accepted whole, with all that the model can say', () => {
    expect(jobFaults(fullJob())).toEqual([]);
  });

  it('reads the same after it was read once: nothing is dropped or changed by reading', () => {
    const once = Job.parse(fullJob());
    expect(readJob(once).data).toEqual(once);
    expect(once).toMatchObject(fullJob());
  });

  it('fills in what was left out: bought, exact, 12 V, negative earth, as original', () => {
    const loom = Loom.parse({
      code: 'flat',
      name: 'flat',
      points: [{ id: 'a', kind: 'stud' }],
      wires: [
        {
          id: '1',
          cableType: 'thin-wall',
          size: { system: 'mm2', areaMm2: 1 },
          colour: { base: 'red' },
          from: { point: 'a', join: 'bare' },
          to: { point: 'a', join: 'crimp', terminal: { part: 'ring' } },
        },
      ],
    });
    expect(loom).toMatchObject({ systemVoltage: 12, earth: 'negative', look: 'original', branches: [] });
    expect(loom.wires[0]).toMatchObject({
      supply: 'buy',
      colourRule: 'exact',
      to: { terminal: { supply: 'buy' } },
    });
  });

  it('sells by one pack and by whole metres where an offer says no more', () => {
    const price = { amount: '1', currency: 'GBP' };
    const pack = { form: 'pack', code: 'a', supplier: 's', part: 'p', packCount: 1, packPrice: price };
    expect(Offer.parse(pack)).toMatchObject({ minimumPacks: 1, stepPacks: 1, condition: 'new' });
    const metre = { form: 'metre', code: 'b', supplier: 's', part: 'p', pricePerMetre: price };
    expect(Offer.parse(metre)).toMatchObject({ minimumMm: 1000, stepMm: 1000 });
  });
});

describe('the breadth of a loom', () => {
  const wireWith = (field: string, value: unknown) => changed(fullJob(), `/looms/0/wires/0/${field}`, value);

  it.each([
    { system: 'mm2', areaMm2: 0.22 },
    { system: 'awg', gauge: '4/0' },
    { system: 'awg', gauge: '50' },
    { system: 'sae', gauge: '29' },
    { system: 'metricStrands', strands: 14, strandMm: 0.3 },
    { system: 'imperialStrands', strands: 120, strandInch: 0.012 },
    { system: 'measuredStrands', strands: 1, strandMm: 1.02 },
  ])('marks a size as $system', (size) => {
    expect(jobFaults(wireWith('size', size))).toEqual([]);
  });

  it.each(['tipToTip', 'sheathToSheath', 'route'])('measures a wire by %s', (basis) => {
    expect(jobFaults(wireWith('length/basis', basis))).toEqual([]);
  });

  it.each(['crimp', 'solder', 'joint', 'bare'])('joins an end by %s', (join) => {
    expect(jobFaults(wireWith('from/join', join))).toEqual([]);
  });

  it.each(['black', 'lightGreen', 'lightBlue', 'lilac', 'purple', 'pink', 'natural'])(
    'knows the shade %s',
    (tracer) => {
      expect(jobFaults(wireWith('colour/tracer', tracer))).toEqual([]);
    },
  );

  it.each(PointKind.options)('ends or divides at a %s', (kind) => {
    expect(jobFaults(changed(fullJob(), '/looms/0/points/0/kind', kind))).toEqual([]);
  });

  it.each(Supply.options)('says of a part at a point that it is %s', (supply) => {
    expect(jobFaults(changed(fullJob(), '/looms/0/points/1/supply', supply))).toEqual([]);
  });

  it.each(Condition.options)('offers a part as %s', (condition) => {
    expect(jobFaults(changed(fullJob(), '/offers/0/condition', condition))).toEqual([]);
  });

  it('is content with wires alone, with parts alone, and with points alone', () => {
    const name = 'x';
    const wires = newLoom.wires?.map((wire) => ({ ...wire, inCable: undefined }));
    expect(LoomRevision.safeParse({ name, wires, points: newLoom.points }).success).toBe(true);
    expect(LoomRevision.safeParse({ name, options: oldLoom.options, parts: oldLoom.parts }).success).toBe(
      true,
    );
    expect(LoomRevision.safeParse({ name, options: oldLoom.options, points: oldLoom.points }).success).toBe(
      true,
    );
  });

  it('holds a catalogue of every part kind', () => {
    const kinds = new Set(Part.options.map((option) => option.shape.kind.value));
    expect(new Set(everyPart.map((part) => part.kind))).toEqual(kinds);
  });

  it('finds every part of a kit, and the one part of any other offer', () => {
    const job = Job.parse(fullJob());
    expect(job.offers.map((offer) => offerParts(offer).map(({ part }) => part))).toEqual([
      ['bullet'],
      ['w-44-012-green-yellow'],
      ['braid'],
      ['housing', 'pin', 'seal'],
    ]);
  });
});
