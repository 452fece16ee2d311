import { describe, expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { bigJob } from './bigLoom.ts';

const small = { wires: 10, suppliers: 4, seed: 1 };

describe('A generated loom', () => {
  test.each([10, 300, 2000])('of %i wires is a job without faults', (wires) => {
    const job = bigJob({ wires, suppliers: 8, seed: 1 });
    expect(Job.safeParse(job).error).toBeUndefined();
    expect(job.looms[0]?.wires).toHaveLength(wires);
  });

  test('is the same to the byte for the same seed, and another for another seed', () => {
    const text = (seed: number) => JSON.stringify(bigJob({ ...small, seed }));
    expect(text(1)).toBe(text(1));
    expect(text(2)).not.toBe(text(1));
  });

  test('has offers of every form, with breaks, and a seller for every part', () => {
    const { parts, offers } = bigJob(small);
    expect(new Set(offers.map(({ form }) => form))).toEqual(new Set(['pack', 'metre', 'length', 'kit']));
    for (const form of ['pack', 'metre'])
      expect(offers.some((offer) => offer.form === form && offer.breaks !== undefined)).toBe(true);
    const sold = new Set(offers.flatMap((offer) => (offer.form === 'kit' ? [] : [offer.part])));
    expect(parts.filter(({ code }) => !sold.has(code))).toEqual([]);
  });

  test('is priced as shops price: a metre of wire for tens of pence, a blade for a few', () => {
    const { offers } = bigJob({ wires: 300, suppliers: 8, seed: 1 });
    const metre = offers.flatMap((offer) =>
      offer.form === 'metre' && offer.part.startsWith('cable-14') ? [Number(offer.pricePerMetre.amount)] : [],
    );
    const blade = offers.flatMap((offer) =>
      offer.form === 'pack' && offer.part === 'blade'
        ? [Number(offer.packPrice.amount) / offer.packCount]
        : [],
    );
    expect(metre.length).toBeGreaterThan(0);
    expect(metre.filter((amount) => amount < 0.3 || amount > 0.6)).toEqual([]);
    expect(blade.length).toBeGreaterThan(0);
    expect(blade.filter((amount) => amount < 0.04 || amount > 0.2)).toEqual([]);
  });

  test('limits no stock of what only one supplier sells', () => {
    const { offers } = bigJob({ wires: 2000, suppliers: 4, seed: 1 });
    const unlimited = new Set(
      offers.flatMap((offer) =>
        offer.form !== 'kit' && !('stockPacks' in offer && offer.stockPacks !== undefined)
          ? [offer.part]
          : [],
      ),
    );
    const limited = offers.filter((offer) => offer.form === 'pack' && offer.stockPacks !== undefined);
    expect(limited.length).toBeGreaterThan(0);
    expect(
      limited
        .flatMap((offer) => (offer.form === 'pack' ? [offer.part] : []))
        .filter((part) => !unlimited.has(part)),
    ).toEqual([]);
  });

  test('has shared ends, joiners with no more bullets than they take, and coverings of three kinds', () => {
    const { looms, parts } = bigJob({ ...small, wires: 300 });
    const [loom] = looms;
    const ends = (loom?.wires ?? []).flatMap(({ from, to }) => [from, to]);
    const shared = ends.filter((end) => end.sharesTerminal !== undefined);
    expect(shared.filter((end) => end.terminal === undefined).length).toBeGreaterThan(10);
    expect(new Set(loom?.coverings?.map(({ kind }) => kind)).size).toBe(3);
    const joiners = (loom?.points ?? []).filter(({ kind }) => kind === 'joiner');
    expect(joiners.length).toBeGreaterThan(10);
    for (const { id, part } of joiners) {
      const entry = parts.find(({ code }) => code === part);
      const room = entry?.kind === 'joiner' ? entry.positions : 0;
      expect(ends.filter(({ point }) => point === id).length).toBeLessThanOrEqual(room);
    }
  });

  test('asks for more colours and sizes as it grows, at most sixty', () => {
    const specs = (wires: number) =>
      bigJob({ ...small, wires }).parts.filter(({ kind }) => kind === 'wire').length;
    expect([10, 300, 2000].map(specs)).toEqual([6, 21, 60]);
  });

  test('becomes several looms where one would hold more than it may', () => {
    const { looms } = bigJob({ ...small, wires: 20_001 });
    expect(looms.map(({ wires }) => wires?.length)).toEqual([20_000, 1]);
    expect(looms.map(({ points }) => points?.length)).toEqual([20_000, 2]);
  });
});
