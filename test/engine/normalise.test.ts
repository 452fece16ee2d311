import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normaliseJob, partsInReach } from '../../worker/engine/job/normalise.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';
import { offerParts } from '../../worker/engine/model/offer.ts';
import { arbitraryJob } from './arbitraryJob.ts';
import { byTheMetre, consumable, gbp, jobOf, pack, points, supplier, wire, wirePart } from './fixtures.ts';

const codes = (list: readonly { code: string }[]) => list.map(({ code }) => code);

test('looms that are not asked for are dropped, with the parts, offers and suppliers that only they need', () => {
  const loom = (code: string, part: string) => ({ code, name: code, parts: [{ part, quantity: 1 }] });
  const job = normaliseJob(
    jobOf({
      parts: [consumable('tie'), consumable('clip')],
      suppliers: [supplier('s'), supplier('t')],
      offers: [pack('o1', 's', 'tie', 1, '1'), pack('o2', 't', 'clip', 1, '1')],
      looms: [loom('asked', 'tie'), loom('other', 'clip')],
      request: { looms: [{ loom: 'asked', quantity: 1 }] },
    }),
  );
  expect([codes(job.looms), codes(job.parts), codes(job.offers), codes(job.suppliers)]).toEqual([
    ['asked'],
    ['tie'],
    ['o1'],
    ['s'],
  ]);
});

test('wire parts are kept where they match a wire that is asked for by cable type, size and colour', () => {
  const match = wirePart('match');
  const job = normaliseJob(
    jobOf({
      parts: [
        match,
        { ...match, code: 'other-cable', cableType: 'pvc' } as JobInput['parts'][number],
        { ...match, code: 'other-size', size: { system: 'mm2', areaMm2: 2 } } as JobInput['parts'][number],
        wirePart('other-colour', 'green'),
        { ...match, code: 'seen', colour: { base: 'red', seen: 'faded' } } as JobInput['parts'][number],
      ],
      suppliers: [supplier('s')],
      offers: [byTheMetre('o', 's', 'match', '1')],
      loom: { points: points('A', 'B'), wires: [wire('1')] },
    }),
  );
  expect(codes(job.parts)).toEqual(['match', 'seen']);
});

test('where nobody sells the wire part that matches, the nearest are kept beside it', () => {
  const match = wirePart('match');
  const job = normaliseJob(
    jobOf({
      parts: [
        match,
        { ...match, code: 'other-size', size: { system: 'mm2', areaMm2: 2 } } as JobInput['parts'][number],
        wirePart('other-colour', 'green'),
      ],
      loom: { points: points('A', 'B'), wires: [wire('1')] },
    }),
  );
  expect(codes(job.parts)).toEqual(['match', 'other-size']);
});

test('where no wire part matches, the five nearest by code are kept and their offers are not', () => {
  const near = ['n1', 'n2', 'n3', 'n4', 'n5', 'n6'].map((code) => wirePart(code, 'green'));
  const job = normaliseJob(
    jobOf({
      parts: [...near].reverse(),
      suppliers: [supplier('s')],
      offers: [byTheMetre('o', 's', 'n1', '1')],
      loom: { points: points('A', 'B'), wires: [wire('1')] },
    }),
  );
  expect(codes(job.parts)).toEqual(['n1', 'n2', 'n3', 'n4', 'n5']);
  expect(job.offers).toEqual([]);
});

test('a kit that holds a part asked for keeps all that is in it, so that the job is still whole', () => {
  const job = normaliseJob(
    jobOf({
      parts: [consumable('tie'), consumable('clip'), consumable('boot')],
      suppliers: [supplier('s')],
      offers: [
        {
          form: 'kit',
          code: 'kit',
          supplier: 's',
          contents: [
            { part: 'tie', quantity: 1 },
            { part: 'clip', quantity: 1 },
          ],
          packPrice: gbp('1'),
        },
        pack('clip-alone', 's', 'clip', 1, '1'),
      ],
      loom: { parts: [{ part: 'tie', quantity: 1 }] },
    }),
  );
  expect(codes(job.parts)).toEqual(['clip', 'tie']);
  expect(codes(job.offers)).toEqual(['kit']);
});

test('what hangs together with a part asked for is kept with its offers: stand-ins, mates, tools, made-up looms', () => {
  const parts = [
    { kind: 'housing', code: 'plug', description: 'Plug', ways: 2, family: 'fam', mates: ['socket'] },
    { kind: 'housing', code: 'socket', description: 'Socket', ways: 2 },
    { kind: 'housing', code: 'plug-b', description: 'Plug', ways: 2, standsInFor: [{ part: 'plug' }] },
    { kind: 'housing', code: 'plug-c', description: 'Plug', ways: 2, standsInFor: [{ family: 'fam' }] },
    { kind: 'tool', code: 'pliers', description: 'Pliers', worksFamilies: ['fam'] },
    { kind: 'madeUpLoom', code: 'made', description: 'Made up', forLooms: ['l'] },
    { kind: 'madeUpLoom', code: 'other-made', description: 'Made up', forLooms: ['other'] },
    { kind: 'tool', code: 'saw', description: 'Saw', worksFamilies: ['wood'] },
    consumable('tie'),
  ] as const;
  const job = normaliseJob(
    jobOf({
      parts: structuredClone(parts) as never,
      suppliers: [supplier('s')],
      offers: parts.map(({ code }) => pack(`of-${code}`, 's', code, 1, '1')),
      loom: { parts: [{ part: 'plug', quantity: 1 }] },
    }),
  );
  const kept = ['made', 'pliers', 'plug', 'plug-b', 'plug-c', 'socket'];
  expect(codes(job.parts)).toEqual(kept);
  expect(codes(job.offers)).toEqual(kept.map((code) => `of-${code}`));
});

test('the revision that is worked is written into the request', () => {
  const job = normaliseJob(jobOf({ loom: { revision: 7, parts: [], points: points('A') } }));
  expect(job.request.looms).toEqual([{ loom: 'l', revision: 7, quantity: 1 }]);
});

test('codes are sorted by their bytes, capitals before small letters', () => {
  const parts = ['b', 'a', 'B', '10', '9'].map(consumable);
  const job = normaliseJob(
    jobOf({ parts, loom: { parts: parts.map(({ code }) => ({ part: code, quantity: 1 })) } }),
  );
  expect(codes(job.parts)).toEqual(['10', '9', 'B', 'a', 'b']);
});

test('the order of branches along a wire’s way is kept, for it is the way', () => {
  const branch = (id: string, from: string, to: string) => ({ id, from, to, lengthMm: 100 });
  const job = normaliseJob(
    jobOf({
      loom: {
        points: points('A', 'B', 'C'),
        branches: [branch('z', 'A', 'C'), branch('y', 'C', 'B')],
        wires: [wire('1', { via: ['z', 'y'] })],
      },
    }),
  );
  expect(job.looms[0]?.branches.map(({ id }) => id)).toEqual(['y', 'z']);
  expect(job.looms[0]?.wires[0]?.via).toEqual(['z', 'y']);
});

test('a normalised job is a job still, and normalising it again changes nothing', () => {
  fc.assert(
    fc.property(arbitraryJob, (given) => {
      const once = normaliseJob(given);
      expect(Job.safeParse(once).success).toBe(true);
      expect(canonicalJson(normaliseJob(once))).toBe(canonicalJson(once));
    }),
    { numRuns: 60 },
  );
});

test('the job that was given is not touched', () => {
  fc.assert(
    fc.property(arbitraryJob, (given) => {
      const before = canonicalJson(given);
      normaliseJob(given);
      expect(canonicalJson(given)).toBe(before);
    }),
    { numRuns: 30 },
  );
});

describe('the parts in reach of a job', () => {
  test('are enough to choose the offers by: with those that sell none of them left out, it is the same job', () => {
    fc.assert(
      fc.property(arbitraryJob, (given) => {
        const reach = partsInReach(given);
        const pinned = new Set((given.request.pinned ?? []).map(({ offer }) => offer));
        const offers = given.offers.filter(
          (offer) => pinned.has(offer.code) || offerParts(offer).some(({ part }) => reach.has(part)),
        );
        expect(canonicalJson(normaliseJob({ ...given, offers }))).toBe(canonicalJson(normaliseJob(given)));
      }),
      { numRuns: 60 },
    );
  });

  test('leave out what no loom of the request needs', () => {
    const loom = (code: string, part: string) => ({ code, name: code, parts: [{ part, quantity: 1 }] });
    const job = jobOf({
      parts: [consumable('tie'), consumable('clip')],
      looms: [loom('asked', 'tie'), loom('other', 'clip')],
      request: { looms: [{ loom: 'asked', quantity: 1 }] },
    });
    expect([...partsInReach(job)]).toEqual(['tie']);
  });
});
