import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { askedLooms } from '../../../worker/engine/loom/asked.ts';
import { circuitsOf } from '../../../worker/engine/loom/graph/circuits.ts';
import { Job, type JobInput } from '../../../worker/engine/model/job.ts';
import { bigJob } from '../../support/bigLoom.ts';
import { jobOf, mm2, wire } from '../fixtures.ts';
import {
  foundIn,
  housingOf,
  joinerOf,
  sealOf,
  terminalOf,
  wireOf,
  type EndInput,
  type PartInput,
} from './told.ts';

const PARTS: PartInput[] = [
  wireOf(2.1),
  terminalOf('pin', { gender: 'male', family: 'f', wireMinMm2: 1, wireMaxMm2: 2, insulationMaxMm: 2 }),
  terminalOf('blade', { gender: 'female', family: 'g', join: 'crimp' }),
  terminalOf('bullet', { terminalType: 'bullet', sizeMm: 3.9 }),
  sealOf('seal', { family: 'g', insulationMaxMm: 2 }),
  housingOf('plug', { ways: 2, family: 'f', housingGender: 'plug', contactGender: 'female', sealed: true }),
  housingOf('socket', { ways: 3, family: 'g', housingGender: 'socket', contactGender: 'female' }),
  joinerOf('joiner', { sizeMm: 4.7 }),
];
const POINTS = ['A', 'B', 'J', 'D'] as const;
const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
const defined = <T extends object>(value: T) =>
  Object.fromEntries(Object.entries(value).filter(([, inner]) => inner !== undefined)) as T;

/** Ends that share a terminal leave it to the first of them; so any of them may come first. */
const end: fc.Arbitrary<EndInput> = fc
  .record({
    point: fc.constantFrom(...POINTS),
    join: fc.constantFrom('crimp' as const, 'solder' as const),
    way: maybe(fc.constantFrom('1', '2', '3', '4')),
    terminal: maybe(fc.constantFrom('pin', 'blade', 'bullet')),
    seal: maybe(fc.constant('seal')),
    shared: maybe(fc.constantFrom('x', 'y')),
  })
  .map(({ point, join, way, terminal, seal, shared }) =>
    defined({
      point,
      join,
      way: shared ?? way,
      terminal: shared === undefined && terminal !== undefined ? { part: terminal } : undefined,
      seal: shared === undefined && seal !== undefined ? { part: seal } : undefined,
      sharesTerminal: shared,
    }),
  );
const wires = fc.array(
  fc.record({
    from: end,
    to: end,
    base: fc.constantFrom('red' as const, 'green' as const),
    areaMm2: fc.constantFrom(0.5, 1, 2, 3),
    circuit: maybe(fc.constantFrom('stop', 'tail')),
  }),
  { minLength: 1, maxLength: 8 },
);
type Wires = typeof wires extends fc.Arbitrary<infer T> ? T : never;

/** The job with names that a function gives, and lists in an order that another gives. */
function jobWith(
  given: Wires,
  name: (id: string) => string = (id) => id,
  order: <T>(list: T[]) => T[] = (list) => list,
): Job {
  const place = (at: EndInput): EndInput => ({ ...at, point: name(at.point) });
  const kinds = { A: 'connector', B: 'connector', J: 'joiner', D: 'device' } as const;
  const of = { A: 'plug', B: 'socket', J: 'joiner', D: undefined } as const;
  const points = POINTS.map((id) => ({
    id: name(id),
    kind: kinds[id],
    ...(of[id] === undefined ? { pins: ['1', '2'] } : { part: of[id] }),
    ...(id === 'A' ? { matedTo: { point: name('B') } } : {}),
  }));
  const listed = given.map(({ from, to, base, areaMm2, circuit }, index) =>
    wire(name(`W${index}`), {
      from: place(from),
      to: place(to),
      colour: { base },
      size: mm2(areaMm2),
      ...(circuit === undefined ? {} : { circuit }),
    }),
  );
  const loom: JobInput['looms'][number] = {
    code: 'l',
    name: 'l',
    points: order(points),
    wires: order(listed),
  };
  return jobOf({ parts: order([...PARTS]), looms: [loom] });
}

/** What is found, without the names of wires and points. */
const kindsOf = (job: Job) =>
  foundIn(job)
    .map(({ code, severity, limit }) => `${severity} ${code} ${limit ?? ''}`)
    .sort();

describe('the checks of any loom', () => {
  test('find the same, whatever its lists’ order', () => {
    fc.assert(
      fc.property(wires, (given) => {
        expect(
          foundIn(
            jobWith(
              given,
              (id) => id,
              (list) => [...list].reverse(),
            ),
          ),
        ).toEqual(foundIn(jobWith(given)));
      }),
      { numRuns: 60 },
    );
  });

  test('find the same under other names, so that another wire comes first', () => {
    const other = (id: string) =>
      `n${String(999 - (id.codePointAt(0) ?? 0) * 10 - (id.codePointAt(1) ?? 0))}`;
    fc.assert(
      fc.property(wires, (given) => {
        expect(kindsOf(jobWith(given, other))).toEqual(kindsOf(jobWith(given)));
      }),
      { numRuns: 60 },
    );
  });

  test('are of many sorts here, so that the two above are no empty words', () => {
    const seen = new Set(
      fc
        .sample(wires, { numRuns: 200, seed: 4 })
        .flatMap((given) => foundIn(jobWith(given)).map(({ code }) => code)),
    );
    for (const code of [
      ...['terminal-range', 'insulation-grip', 'join-differs', 'seal-range', 'seal-missing', 'ways-exceeded'],
      ...[
        'way-taken-twice',
        'way-unknown',
        'does-not-mate',
        'not-of-family',
        'contact-gender',
        'joiner-full',
      ],
      ...['size-differs', 'colour-on-two-circuits', 'circuit-named-twice'],
    ])
      expect(seen).toContain(code);
  });

  test('tell a colour exactly where two wires of it at one point are not one circuit', () => {
    fc.assert(
      fc.property(wires, (given) => {
        const job = jobWith(given);
        expect(subjects(job)).toEqual(pairsAlike(job));
      }),
      { numRuns: 100 },
    );
  });
});

const subjects = (job: Job) =>
  foundIn(job, 'colour-on-two-circuits')
    .map(({ subject }) => subject ?? '')
    .sort();

/** By looking at every two ends of every point. */
function pairsAlike(job: Job): string[] {
  const looms = askedLooms(job);
  const circuits = circuitsOf(looms, new Map(job.parts.map((part) => [part.code, part])));
  const found = new Set<string>();
  for (const { loom } of looms) {
    const ends = loom.wires.flatMap((each) => [each.from, each.to].map(({ point }) => ({ each, point })));
    const kinds = new Map(loom.points.map(({ id, kind }) => [id, kind]));
    for (const { each, point } of ends)
      for (const other of ends)
        if (
          other.point === point &&
          kinds.get(point) !== 'stud' &&
          other.each.colour.base === each.colour.base &&
          other.each.colour.tracer === each.colour.tracer &&
          circuits.of(loom.code, each.id).group !== circuits.of(loom.code, other.each.id).group
        )
          found.add(
            `point:${point}:colour:${[each.colour.base, each.colour.tracer].filter(Boolean).join('+')}`,
          );
  }
  return [...found].sort();
}

test('a big loom in order is silent, once the wires that are of one colour by chance are called one circuit', () => {
  const big = bigJob({ wires: 600, suppliers: 2, seed: 3 });
  expect(foundIn(Job.parse(big)).map(({ code }) => code)).toContain('colour-on-two-circuits');
  const named = big.looms.map((loom) => ({
    ...loom,
    wires: loom.wires?.map((each) => ({ ...each, circuit: 'all' })) ?? [],
  }));
  // True of it, and accepted: it has lamps, and nothing in it says where current comes in.
  const accepted = [
    { finding: 'feed-not-stated', subject: 'loom:loom-1', note: 'Made for its purchases alone.' },
  ];
  const clean = named.map((loom) => ({ ...loom, asOriginal: accepted }));
  const found = foundIn(Job.parse({ ...big, looms: clean }));
  expect(found.map(({ code, accepted: note }) => [code, note])).toEqual([
    ['feed-not-stated', 'Made for its purchases alone.'],
  ]);
});
