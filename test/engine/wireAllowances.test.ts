import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { Job, JobInput } from '../../worker/engine/model/job.ts';
import { crimped, gbp, jobOf, mm2, points, supplier, terminal, unhurried, wire } from './fixtures.ts';

type PartInput = JobInput['parts'][number];

const rolled = (job: Job) => rollUp(normaliseJob(job), unhurried);
const texts = (job: Job) =>
  rolled(job).requirements.flatMap((requirement) =>
    requirement.kind === 'wire'
      ? requirement.pieces.flatMap(({ steps }) => steps.map(({ text }) => text))
      : [],
  );
const metres = (job: Job) =>
  Object.fromEntries(
    rolled(job).requirements.map((requirement) => [
      requirement.id,
      requirement.kind === 'count' ? requirement.quantity : requirement.totalMm,
    ]),
  );
const wirePartOf = (code: string, given: Partial<Extract<PartInput, { kind: 'wire' }>>): PartInput => ({
  kind: 'wire',
  code,
  description: `Wire ${code}`,
  cableType: 'thin-wall',
  size: mm2(1),
  colour: { base: 'red' },
  ...given,
});
const exactCuts = { slackPercent: 0, stripMm: 0, redoMm: 0 };

describe('a functional length', () => {
  const resistor = {
    kind: 'wire' as const,
    code: 'resistor',
    description: 'Resistor wire',
    cableType: 'resistance',
    size: mm2(0.5),
    colour: { base: 'pink' as const },
    resistanceMilliohmPerM: 2300,
  };
  const resistorWire = (given: object) =>
    wire('B', { cableType: 'resistance', size: mm2(0.5), colour: { base: 'pink' }, ...given });

  test('to a target is long enough for its ohms, with its strips and nothing else', () => {
    // 1.5 Ω at 2.3 Ω/m: 652.174 mm; strips 2 × 6: 664.174 → 665, whatever slack, re-do and cutting step say.
    const job = jobOf({
      parts: [resistor],
      loom: {
        points: points('A', 'B'),
        settings: { slackPercent: 10, cuttingStepMm: 50 },
        wires: [resistorWire({ function: { targetOhm: 1.5 }, length: { mm: 600, basis: 'route' } })],
      },
    });
    expect(metres(job)).toEqual({ 'wire:resistance:0.5mm2:pink': 665 });
    expect(rolled(job).findings).toEqual([]);
    expect(texts(job)).toEqual([
      '1.5 Ω at 2300 mΩ/m (part resistor) 652.174 between the strips + strips 6 + 6 = 664.174 → 665 mm, nothing added',
    ]);
  });

  test('to a target has its strips within where the settings say so, and the step says which', () => {
    // The same 652.174 mm → 653, and no strips on top.
    const job = jobOf({
      parts: [resistor],
      loom: {
        points: points('A', 'B'),
        settings: { resistorStripWithin: true },
        wires: [resistorWire({ function: { targetOhm: 1.5 }, length: { mm: 600, basis: 'route' } })],
      },
    });
    expect(metres(job)).toEqual({ 'wire:resistance:0.5mm2:pink': 653 });
    expect(texts(job)).toEqual([
      '1.5 Ω at 2300 mΩ/m (part resistor) 652.174, strips 6 + 6 included, → 653 mm, nothing added',
    ]);
  });

  test('of a fusible link is cut as stated', () => {
    const job = jobOf({
      loom: {
        points: points('A', 'B'),
        settings: { cuttingStepMm: 50 },
        wires: [resistorWire({ function: { fixedMm: 153 }, length: undefined })],
      },
    });
    expect(metres(job)).toEqual({ 'wire:resistance:0.5mm2:pink': 153 });
    expect(texts(job)).toEqual(['153 mm as stated, strips included, nothing added']);
  });

  test('that does not reach its ends is told, and cut all the same', () => {
    const { requirements, findings } = rolled(
      jobOf({
        parts: [resistor],
        loom: {
          points: points('A', 'B'),
          wires: [resistorWire({ function: { targetOhm: 1 }, length: { mm: 448, basis: 'route' } })],
        },
      }),
    );
    // 1 Ω: 434.783 + 12 = 446.783 → 447.
    expect(requirements).toMatchObject([{ totalMm: 447 }]);
    expect(findings).toMatchObject([
      { code: 'function-too-short', subject: 'wire:B', found: '447 mm by its function; 448 mm to reach' },
    ]);
  });

  test('to a target of a wire whose resistance nothing states is in no metres, and stops the reader', () => {
    const { requirements, findings } = rolled(
      jobOf({
        loom: { points: points('A', 'B'), wires: [resistorWire({ function: { targetOhm: 1 } })] },
      }),
    );
    expect(requirements).toEqual([]);
    expect(findings).toMatchObject([{ code: 'function-without-resistance', severity: 'stop' }]);
  });
});

describe('a twisted pair', () => {
  const pair = (outsideDiameterMm?: number) =>
    jobOf({
      parts: [wirePartOf('tw', { cableType: 'odd', ...(outsideDiameterMm ? { outsideDiameterMm } : {}) })],
      loom: {
        points: points('A', 'B'),
        settings: { ...exactCuts, twistPitchMm: 20 },
        wires: [
          wire('1', { cableType: 'odd', twistedWith: '2' }),
          wire('2', { cableType: 'odd' }),
          wire('3', { cableType: 'odd' }),
        ],
      },
    });

  test('is longer by its lay in both its wires, and in no other', () => {
    // d 2 mm, p 20 mm: √(1 + (π/10)²) = 1.0481870, by hand; 1000 mm become 1048.187 → 1049.
    const job = pair(2);
    expect(rolled(job).requirements).toMatchObject([
      { pieces: [{ cutMm: 1049 }, { cutMm: 1049 }, { cutMm: 1000 }] },
    ]);
    expect(texts(job)[0]).toContain('1000 route, twisted with 2 1048.187');
    expect(texts(job)[1]).toContain('twisted with 1 1048.187');
  });

  test('of wire whose diameter nothing states is told, and cut without the lay', () => {
    const { requirements, findings } = rolled(pair());
    expect(requirements).toMatchObject([{ totalMm: 3000 }]);
    expect(findings.filter(({ code }) => code === 'twist-not-worked')).toMatchObject([{ subject: 'wire:1' }]);
  });
});

test('twisting stated at both wires, and not worked, is told once', () => {
  const job = jobOf({
    loom: {
      points: points('A', 'B'),
      wires: [
        wire('1', { cableType: 'nobody-knows', twistedWith: '2' }),
        wire('2', { cableType: 'nobody-knows', twistedWith: '1' }),
        wire('3', { cableType: 'nobody-knows', twistedWith: '2' }),
      ],
    },
  });
  const told = rolled(job).findings.filter(({ code }) => code === 'twist-not-worked');
  expect(told.map(({ subject }) => subject)).toEqual(['wire:1', 'wire:3']);
});

test('set-up crimps are one lot for each terminal and wire size that goes in it', () => {
  const job = jobOf({
    parts: [terminal('ring')],
    loom: {
      points: points('A', 'B'),
      settings: { sparePercent: 0, spareMinimum: 0, spareConfidencePercent: 0, setUpCrimps: 2 },
      wires: [
        wire('1', { from: crimped('A', 'ring') }),
        // The trade sells 14/.012 as 1 mm².
        wire('2', {
          from: crimped('A', 'ring'),
          size: { system: 'imperialStrands', strands: 14, strandInch: 0.012 },
        }),
        wire('3', { from: crimped('A', 'ring'), size: mm2(2) }),
        wire('4', { from: crimped('A', 'ring', { sharesTerminal: 's' }) }),
        wire('5', { from: crimped('A', 'ring', { sharesTerminal: 's' }) }),
      ],
    },
  });
  const ring = rolled(job).requirements.find(({ id }) => id === 'part:ring');
  // 1 mm², 2 mm², and two of 1 mm² together: 3 lots of 2, beside the 4 used.
  expect(ring).toMatchObject({ used: 4, spares: 6, quantity: 10 });
  expect(ring?.steps.map(({ text }) => text)).toContain(
    'set-up crimps: 2 with 1 mm² + 2 with 2 mm² + 2 with 1 mm² + 1 mm² = 6 pieces',
  );
});

describe('a wire that nobody offers in its colour', () => {
  const tracer = { base: 'green' as const, tracer: 'brown' as const };
  const sleeve = (code: string, boreMm: number, shade: 'brown' | 'black' = 'brown') => ({
    kind: 'sleeve' as const,
    code,
    description: `Sleeve ${code}`,
    sleeveType: 'pvc' as const,
    shade,
    boreMm,
  });
  const offer = (part: string) => ({
    form: 'metre' as const,
    code: `o-${part}`,
    supplier: 's',
    part,
    pricePerMetre: gbp('0.50'),
  });
  const job = (
    colourRule: 'exact' | 'ask' | 'nextSizeUp' | 'plainBaseWithTracerSleeve',
    sold: string[],
    more: object = {},
  ) =>
    jobOf({
      parts: [
        wirePartOf('green', { colour: { base: 'green' }, outsideDiameterMm: 2.1 }),
        wirePartOf('green-brown', { colour: tracer }),
        wirePartOf('green-brown-3', { colour: tracer, size: mm2(3) }),
        wirePartOf('green-brown-2', { colour: tracer, size: mm2(2) }),
        sleeve('bore-2', 2),
        sleeve('bore-3', 3),
        sleeve('bore-4', 4),
        sleeve('bore-2.1', 2.1),
        sleeve('bore-2.5-black', 2.5, 'black'),
        ...[2.1, 2.2].map((boreMm) => ({
          ...sleeve(`shrink-${boreMm}`, boreMm),
          sleeveType: 'heatShrink' as const,
          recoveredBoreMm: 1,
        })),
      ],
      suppliers: [supplier('s')],
      offers: sold.map(offer),
      quantity: 2,
      loom: {
        points: points('A', 'B'),
        settings: { ...exactCuts, ...more },
        wires: [wire('1', { colour: tracer, colourRule })],
      },
    });

  test('becomes the next size up that is on offer, and says so', () => {
    const next = job('nextSizeUp', ['green', 'green-brown-2', 'green-brown-3']);
    expect(metres(next)).toEqual({ 'wire:thin-wall:2mm2:green+brown': 2000 });
    expect(texts(next)).toContain(
      'no offer sells thin-wall 1 mm² green with brown tracer: 2 mm² instead, the next size up that is',
    );
  });

  test('becomes plain wire with the smallest sleeve of the tracer’s colour that goes over it, at each end', () => {
    const plain = job('plainBaseWithTracerSleeve', ['green', 'bore-2', 'bore-3', 'bore-4', 'bore-2.5-black']);
    // 2 looms × 2 ends × 25 mm
    expect(metres(plain)).toEqual({ 'wire:thin-wall:1mm2:green': 2000, 'part:bore-3': 100 });
    expect(texts(plain)).toContain(
      'no offer sells thin-wall 1 mm² green with brown tracer: plain green with bore-3 (brown) at each end instead',
    );
  });

  // NASA-STD-8739.4 §9.8.1: heat-shrink is larger as supplied than what it passes over. The wire is 2.1 mm over.
  test('gets no heat-shrink that is only as large as the wire, and PVC that is', () => {
    const needed = (sold: string) => Object.keys(metres(job('plainBaseWithTracerSleeve', ['green', sold])));
    expect(needed('shrink-2.1')).toEqual(['wire:thin-wall:1mm2:green+brown']);
    expect(needed('shrink-2.2')).toEqual(['wire:thin-wall:1mm2:green', 'part:shrink-2.2']);
    expect(needed('bore-2.1')).toEqual(['wire:thin-wall:1mm2:green', 'part:bore-2.1']);
  });

  test('stays what it is where it is on offer after all, where the rule is exact, and where nothing may stand in', () => {
    const own = { 'wire:thin-wall:1mm2:green+brown': 2000 };
    expect(metres(job('nextSizeUp', ['green-brown', 'green-brown-2']))).toEqual(own);
    expect(metres(job('plainBaseWithTracerSleeve', ['green-brown', 'green', 'bore-3']))).toEqual(own);
    expect(metres(job('exact', ['green-brown-2', 'green', 'bore-3']))).toEqual(own);
    expect(metres(job('nextSizeUp', ['green']))).toEqual(own);
    expect(metres(job('plainBaseWithTracerSleeve', ['green', 'bore-2']))).toEqual(own);
    expect(metres(job('plainBaseWithTracerSleeve', ['bore-3']))).toEqual(own);
  });

  test('is asked about where its rule is to ask', () => {
    expect(rolled(job('ask', ['green'])).findings).toMatchObject([
      { code: 'colour-to-settle', subject: 'wire:1' },
    ]);
    expect(rolled(job('ask', ['green-brown'])).findings).toEqual([]);
  });
});
