import { describe, expect, test } from 'vitest';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { bare, consumable, crimped, jobOf, points, terminal, unhurried, wire, wirePart } from './fixtures.ts';

const rolled = (job: Job) => rollUp(normaliseJob(job), unhurried);
const quantities = (job: Job) =>
  Object.fromEntries(
    rolled(job).requirements.map((requirement) => [
      requirement.id,
      requirement.kind === 'count' ? requirement.quantity : requirement.totalMm,
    ]),
  );
const noSpares = { sparePercent: 0, spareMinimum: 0, spareConfidencePercent: 0 };
const exactCuts = { slackPercent: 0, stripMm: 0, redoMm: 0 };

describe('wires', () => {
  test('of one cable type, size and colour are one requirement, whatever was seen on the old ones', () => {
    const job = jobOf({
      loom: {
        points: points('A', 'B'),
        settings: exactCuts,
        wires: [
          wire('1'),
          wire('2', { colour: { base: 'red', seen: 'nearly pink' } }),
          wire('3', { colour: { base: 'red', tracer: 'black' } }),
        ],
      },
    });
    expect(quantities(job)).toEqual({
      'wire:thin-wall:1mm2:red': 2000,
      'wire:thin-wall:1mm2:red+black': 1000,
    });
    expect(rolled(job).requirements[0]).toMatchObject({
      colour: { base: 'red' },
      label: 'thin-wall 1 mm² red',
    });
  });

  test('are counted for each loom of the quantity asked, and say so in the sum', () => {
    const job = jobOf({
      quantity: 3,
      loom: {
        points: points('A', 'B'),
        settings: exactCuts,
        wires: [wire('1'), wire('2', { length: { mm: 250, basis: 'route' } })],
      },
    });
    const [requirement] = rolled(job).requirements;
    expect(requirement).toMatchObject({ totalMm: 3750, steps: [{ text: '3 × 1000 + 3 × 250 = 3750 mm' }] });
  });

  // 14/.012 → 14/0.30, sold as 1 mm²: rydertowing.co.uk, towbar wiring cable; dugdalevms.com for the imperial size.
  test('in old marks are those that the trade sells for them; gauges and sizes that no table names stand alone', () => {
    const job = jobOf({
      loom: {
        points: points('A', 'B'),
        wires: [
          wire('1'),
          wire('2', { size: { system: 'metricStrands', strands: 14, strandMm: 0.3 } }),
          wire('3', { size: { system: 'awg', gauge: '18' } }),
          wire('4', { size: { system: 'sae', gauge: '18' } }),
          wire('5', { size: { system: 'imperialStrands', strands: 14, strandInch: 0.012 } }),
          wire('6', { size: { system: 'measuredStrands', strands: 14, strandMm: 0.31 } }),
          wire('7', { size: { system: 'imperialStrands', strands: 14, strandInch: 0.01 } }),
        ],
      },
    });
    expect(rolled(job).requirements.map(({ id }) => id)).toEqual([
      'wire:thin-wall:14/.010:red',
      'wire:thin-wall:1mm2:red',
      'wire:thin-wall:AWG-18:red',
      'wire:thin-wall:SAE-18:red',
    ]);
  });

  test('of an imperial size that the trade table does not know are told, with the sizes that it knows', () => {
    const odd = { system: 'imperialStrands' as const, strands: 23, strandInch: 0.0076 };
    const { findings } = rolled(
      jobOf({ loom: { points: points('A', 'B'), wires: [wire('1', { size: odd })] } }),
    );
    expect(findings).toMatchObject([
      {
        code: 'size-without-equivalent',
        at: '/looms/0/wires/0/size',
        found: '23/.0076',
        severity: 'warning',
      },
    ]);
    expect(findings[0]?.limit).toContain('14/.012');
  });

  test('of an imperial size say in a step what it is sold as', () => {
    const old = { system: 'imperialStrands' as const, strands: 44, strandInch: 0.012 };
    const { requirements } = rolled(
      jobOf({ loom: { points: points('A', 'B'), wires: [wire('1', { size: old })] } }),
    );
    const [requirement] = requirements;
    // 44/.012 → 44/0.30, sold as 3 mm²: rydertowing.co.uk, towbar wiring cable; never the next size up.
    expect(requirement?.kind === 'wire' && requirement.pieces[0]?.steps[1]?.text).toBe(
      '44/.012 is sold as 44/0.30, called 3 mm²',
    );
  });

  test('not bought are left out with their metres, and their ends are still bought', () => {
    const job = jobOf({
      quantity: 2,
      parts: [terminal('ring')],
      loom: {
        points: points('A', 'B'),
        settings: { ...exactCuts, ...noSpares },
        wires: [wire('1', { supply: 'stock', from: crimped('A', 'ring') })],
      },
    });
    expect(rolled(job).leftOut).toEqual([
      {
        label: 'thin-wall 1 mm² red',
        supply: 'stock',
        totalMm: 2000,
        where: [{ loom: 'l', where: 'wire 1' }],
      },
    ]);
    expect(quantities(job)).toEqual({ 'part:ring': 2 });
  });

  test('without a length stop the reader with a finding that names the wire and the mend', () => {
    const { length: _none, ...unmeasured } = wire('W9');
    const { requirements, findings } = rolled(
      jobOf({
        loom: { points: points('A', 'B'), wires: [unmeasured, wire('W1', { colour: { base: 'black' } })] },
      }),
    );
    expect(requirements).toHaveLength(1);
    expect(findings).toMatchObject([
      { code: 'wire-without-length', severity: 'stop', at: '/looms/0/wires/1', where: 'loom l, wire W9' },
    ]);
    expect(findings[0]?.todo).toContain('not in the metres');
  });

  test('without a length, whose way is no length either, are told so', () => {
    const of = (to: string) => {
      const { length: _none, ...unmeasured } = wire('1', { to: bare(to) });
      const { findings } = rolled(
        jobOf({
          loom: {
            points: points('A', 'B'),
            branches: [{ id: 'b', from: 'A', to: 'B', lengthMm: 0 }],
            wires: [unmeasured],
          },
        }),
      );
      return findings.map(({ code, found }) => `${code}: ${found}`);
    };
    expect(of('B')).toEqual(['wire-without-length: no length, and the branches of its way are 0 mm long']);
    expect(of('A')).toEqual(['wire-without-length: no length, and both ends are at A']);
  });

  test('without a length, where no branches join their ends, are not in the metres, and that is said', () => {
    const { length: _none, ...unmeasured } = wire('1');
    const none = rolled(jobOf({ loom: { points: points('A', 'B'), wires: [unmeasured] } }));
    expect(none.findings).toMatchObject([{ severity: 'stop', found: 'no length' }]);
    const apart = rolled(
      jobOf({
        loom: {
          points: points('A', 'B', 'C'),
          branches: [{ id: 'b', from: 'A', to: 'C', lengthMm: 900 }],
          wires: [unmeasured],
        },
      }),
    );
    expect(apart.findings).toMatchObject([
      { severity: 'stop', found: 'no length, and no branches join A and B' },
    ]);
  });

  test('that are cores of a cable are bought with it, in its length', () => {
    const cable = { kind: 'cable', code: 'twin', description: 'Twin', cableType: 'thin-wall', cores: [] };
    const core = { size: { system: 'mm2' as const, areaMm2: 1 }, colour: { base: 'red' as const } };
    const { requirements } = rolled(
      jobOf({
        parts: [{ ...cable, kind: 'cable', cores: [core, core] }],
        loom: {
          settings: exactCuts,
          points: points('A', 'B'),
          cables: [{ id: 'c', part: 'twin', length: { mm: 2000, basis: 'route' } }],
          wires: [wire('1', { inCable: 'c' }), wire('2', { inCable: 'c' })],
        },
      }),
    );
    expect(requirements).toMatchObject([
      { id: 'part:twin', totalMm: 2000, pieces: [{ what: 'cable c', cores: ['1', '2'] }] },
    ]);
  });

  test('are served by every wire part of the same cable type, size and colour', () => {
    const { requirements } = rolled(
      jobOf({
        parts: [wirePart('b'), wirePart('a'), wirePart('c', 'green')],
        loom: { points: points('A', 'B'), wires: [wire('1')] },
      }),
    );
    expect(requirements[0]?.servedBy).toEqual(['a', 'b']);
  });
});

describe('coverings', () => {
  const sleeve = {
    kind: 'sleeve' as const,
    code: 'hs',
    description: 'Shrink',
    sleeveType: 'heatShrink' as const,
  };
  const cutOf = (covering: object, part: object = {}) =>
    rolled(
      jobOf({
        parts: [{ ...sleeve, ...part }],
        loom: { coverings: [{ id: 'c', kind: 'heatShrink', part: 'hs', lengthMm: 90, ...covering }] },
      }),
    ).requirements;

  test('are cut to their stated length and overlaps, up to the cutting step', () => {
    expect(cutOf({ overlapStartMm: 5, overlapEndMm: 10 })).toMatchObject([{ totalMm: 105, joinable: false }]);
  });

  // ASTM D2671 as makers quote it: C = 100 · (L1 − L0) / L0, so with −10 % a cut of 100 covers 90.
  test('of heat-shrink that shortens as it shrinks are cut so much longer', () => {
    expect(cutOf({}, { lengthwiseChangePercent: -10 })).toMatchObject([{ totalMm: 100 }]);
    expect(cutOf({}, { lengthwiseChangePercent: 10 })).toMatchObject([{ totalMm: 90 }]);
  });

  test('without a part, or over branches that do not go on from each other, are told and not bought', () => {
    const { requirements, findings } = rolled(
      jobOf({
        parts: [sleeve],
        loom: {
          points: points('A', 'B', 'C', 'D'),
          branches: [
            { id: 'b', from: 'A', to: 'B', lengthMm: 900 },
            { id: 'far', from: 'C', to: 'D', lengthMm: 100 },
          ],
          coverings: [
            { id: 'c', kind: 'heatShrink', lengthMm: 90 },
            { id: 'd', kind: 'heatShrink', part: 'hs', over: ['b', 'far'] },
          ],
        },
      }),
    );
    expect(requirements).toEqual([]);
    expect(findings.map(({ code, where }) => [code, where])).toEqual([
      ['covering-not-chosen', 'loom l, covering c'],
      ['length-not-stated', 'loom l, covering d'],
    ]);
  });
});

describe('a joiner', () => {
  const joiner = {
    kind: 'joiner' as const,
    code: 'j',
    description: 'Joiner',
    joinerType: 'sleeve' as const,
    positions: 2,
  };

  test('that two looms share is bought for the loom that brings it, and once', () => {
    const loom = (code: string, suppliedByLoom?: string) => ({
      code,
      name: code,
      points: [
        { id: 'J', kind: 'joiner' as const, part: 'j', ...(suppliedByLoom ? { suppliedByLoom } : {}) },
        ...points('A'),
      ],
      wires: [wire('1', { from: { point: 'J', join: 'bare' }, to: { point: 'A', join: 'bare' } })],
    });
    const job = jobOf({
      parts: [joiner],
      looms: [loom('front'), loom('rear', 'front')],
      request: {
        looms: [
          { loom: 'front', quantity: 1 },
          { loom: 'rear', quantity: 1 },
        ],
      },
    });
    const { requirements, leftOut, findings } = rolled(job);
    expect(requirements.find(({ id }) => id === 'part:j')).toMatchObject({ quantity: 1 });
    expect(leftOut).toMatchObject([{ part: 'j', supply: 'otherLoom', quantity: 1 }]);
    expect(findings).toEqual([]);
    const alone = rolled({ ...job, request: { looms: [{ loom: 'rear', quantity: 1 }] } });
    expect(alone.findings).toMatchObject([{ code: 'other-loom-not-quoted', severity: 'warning' }]);
  });

  test('at which no wire ends is told, and counted all the same', () => {
    const { findings } = rolled(
      jobOf({ loom: { points: [{ id: 'J', kind: 'joiner' }, ...points('A', 'B')], wires: [wire('1')] } }),
    );
    expect(findings).toMatchObject([{ code: 'joiner-unused', where: 'loom l, point J' }]);
  });
});

describe('terminals', () => {
  const shared = (id: string, part?: string) =>
    wire(id, {
      to: {
        point: 'B',
        join: 'crimp',
        sharesTerminal: 'earth',
        ...(part === undefined ? {} : { terminal: { part } }),
      },
    });
  const job = (...wires: ReturnType<typeof wire>[]) =>
    jobOf({
      parts: [terminal('ring')],
      loom: { points: points('A', 'B', 'C'), settings: noSpares, wires },
    });

  test('shared by several ends are counted once, stated at one of them or at all', () => {
    expect(quantities(job(shared('1'), shared('2', 'ring'), shared('3')))).toMatchObject({ 'part:ring': 1 });
    expect(quantities(job(shared('1', 'ring'), shared('2', 'ring')))).toMatchObject({ 'part:ring': 1 });
  });

  test('shared are named with all of their ends', () => {
    const requirement = rolled(job(shared('1'), shared('2', 'ring'))).requirements.find(
      ({ id }) => id === 'part:ring',
    );
    expect(requirement).toMatchObject({
      uses: [{ where: 'one terminal shared at point B (earth): wire 1, to; wire 2, to', each: 1, total: 1 }],
    });
  });

  test('with the same word at another point are another terminal', () => {
    const elsewhere = wire('2', { to: crimped('C', 'ring', { sharesTerminal: 'earth' }) });
    expect(quantities(job(shared('1', 'ring'), elsewhere))).toMatchObject({ 'part:ring': 2 });
  });
});

describe('counted parts', () => {
  test('come from points, fittings by their quantity, and the list of parts, times the looms asked for', () => {
    const job = jobOf({
      quantity: 4,
      parts: [consumable('tie'), { kind: 'fitting', code: 'clip', description: 'Clip', fittingType: 'clip' }],
      loom: {
        points: [{ id: 'A', kind: 'joiner', part: 'tie' }],
        fittings: [
          { part: 'clip', quantity: 3 },
          { part: 'clip', atMm: 200 },
        ],
        parts: [{ part: 'tie', quantity: 10 }],
      },
    });
    expect(quantities(job)).toEqual({ 'part:clip': 16, 'part:tie': 44 });
  });

  test('not bought are left out by where they come from, with their number', () => {
    const job = jobOf({
      quantity: 2,
      parts: [consumable('tie')],
      loom: {
        parts: [
          { part: 'tie', quantity: 5, supply: 'reuse' },
          { part: 'tie', quantity: 3, supply: 'ownerSupplies' },
          { part: 'tie', quantity: 1 },
        ],
      },
    });
    expect(rolled(job).leftOut.map(({ supply, quantity }) => [supply, quantity])).toEqual([
      ['ownerSupplies', 6],
      ['reuse', 10],
    ]);
    expect(quantities(job)).toEqual({ 'part:tie': 2 });
  });

  test('of a kind that is bought by length are not counted, and a warning says so', () => {
    const { requirements, findings } = rolled(
      jobOf({
        parts: [{ kind: 'sleeve', code: 'braid', description: 'Braid', sleeveType: 'braided' }],
        loom: { parts: [{ part: 'braid', quantity: 3 }] },
      }),
    );
    expect(requirements).toEqual([]);
    expect(findings).toMatchObject([
      { code: 'length-part-counted', severity: 'warning', at: '/looms/0/parts/0/part' },
    ]);
  });

  test('of several looms take spares by each loom’s own settings', () => {
    const loom = (code: string, sparePercent: number) => ({
      code,
      name: code,
      points: points('A', 'B'),
      settings: { sparePercent, spareMinimum: 0, spareConfidencePercent: 0 },
      parts: [{ part: 'ring', quantity: 10 }],
    });
    const job = jobOf({
      parts: [terminal('ring')],
      looms: [loom('a', 5), loom('b', 25)],
      request: {
        looms: [
          { loom: 'a', quantity: 2 },
          { loom: 'b', quantity: 1 },
        ],
      },
    });
    // 5 % of 20 + 25 % of 10 = 3.5 → 4
    expect(rolled(job).requirements).toMatchObject([{ used: 30, spares: 4, quantity: 34 }]);
  });
});

test('an end that is bare needs nothing', () => {
  const job = jobOf({ loom: { points: points('A', 'B'), wires: [wire('1', { from: bare('A') })] } });
  expect(Object.keys(quantities(job))).toEqual(['wire:thin-wall:1mm2:red']);
});
