import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { bare, byTheMetre, jobOf, mm2, points, supplier, wire, wirePart } from '../fixtures.ts';
import { foundIn, terminalOf, told, type WireInput } from './told.ts';

const jobWith = (wires: WireInput[], loom: Partial<JobInput['looms'][number]> = {}) =>
  jobOf({
    parts: [terminalOf('blade'), terminalOf('ring', { terminalType: 'ring' })],
    loom: { points: points('A', 'B', 'C'), wires, ...loom },
  });
const asked = (...of: Parameters<typeof jobWith>) => told(jobWith(...of), 'wire-entered-twice');

const at = (point: string, way: string) => ({ ...bare(point), way });
/** From A to B, in way 1 of each. */
const inWays = (id: string, more: Partial<WireInput> = {}) =>
  wire(id, { from: at('A', '1'), to: at('B', '1'), ...more });

describe('a wire that was entered twice', () => {
  test('is asked about, either way round, whatever length, current and supply it states', () => {
    expect(asked([inWays('W1'), inWays('W2')])).toEqual(['wire-entered-twice wires:W1,W2']);
    const turned = inWays('W2', {
      from: at('B', '1'),
      to: at('A', '1'),
      length: { mm: 1300, basis: 'tipToTip' },
      supply: 'reuse',
      amps: 3,
    });
    expect(asked([inWays('W1'), turned])).toEqual(['wire-entered-twice wires:W1,W2']);
    expect(asked([wire('W1'), wire('W2', { from: bare('B'), to: bare('A') })])).toHaveLength(1);
  });

  test('is asked about under another mark of the same size', () => {
    const strands = { system: 'imperialStrands' as const, strands: 14, strandInch: 0.012 };
    expect(asked([inWays('W1', { size: mm2(1) }), inWays('W2', { size: strands })])).toHaveLength(1);
  });

  test('is told at the second of the two, with both', () => {
    const [found] = foundIn(jobWith([inWays('W1'), inWays('W2')]), 'wire-entered-twice');
    expect(found).toMatchObject({
      severity: 'warning',
      at: '/looms/0/wires/1',
      found: 'W1 and W2, both thin-wall 1 mm² red from A way 1 to B way 1',
    });
  });

  test('is asked about once a pair: of three alike twice', () => {
    expect(asked([inWays('W1'), inWays('W2'), inWays('W3')])).toEqual([
      'wire-entered-twice wires:W1,W2',
      'wire-entered-twice wires:W1,W3',
    ]);
  });

  test('is accepted by the pair', () => {
    const asOriginal = [{ finding: 'wire-entered-twice', subject: 'wires:W1,W2', note: 'Doubled.' }];
    expect(foundIn(jobWith([wire('W1'), wire('W2')], { asOriginal }), 'wire-entered-twice')).toMatchObject([
      { severity: 'note', accepted: 'Doubled.' },
    ]);
  });
});

describe('two wires are not asked about', () => {
  const branches = [
    { id: 'left', from: 'A', to: 'B', lengthMm: 900 },
    { id: 'right', from: 'A', to: 'B', lengthMm: 1000 },
  ];
  const crimped = (part: string) => ({ point: 'A', join: 'crimp' as const, terminal: { part } });
  test.each<[string, WireInput[], Partial<JobInput['looms'][number]>]>([
    ['of other colours', [wire('1'), wire('2', { colour: { base: 'red', tracer: 'black' } })], {}],
    ['of other sizes', [wire('1'), wire('2', { size: mm2(2) })], {}],
    ['of other cable types', [wire('1'), wire('2', { cableType: 'pvc' })], {}],
    ['to other points', [wire('1'), wire('2', { to: bare('C') })], {}],
    ['in other ways', [inWays('1'), inWays('2', { to: at('B', '2') })], {}],
    ['in crossed ways', [inWays('1', { to: at('B', '2') }), inWays('2', { from: at('A', '2') })], {}],
    ['of two circuits', [wire('1', { circuit: 'left' }), wire('2', { circuit: 'right' })], {}],
    [
      'in terminals of two kinds',
      [wire('1', { from: crimped('blade') }), wire('2', { from: crimped('ring') })],
      {},
    ],
    ['along two ways', [wire('1', { via: ['left'] }), wire('2', { via: ['right'] })], { branches }],
    ['twisted with each other', [wire('1', { twistedWith: '2' }), wire('2')], {}],
    ['in two cables', [wire('1', { inCable: 'k' }), wire('2')], { cables: [{ id: 'k' }] }],
  ])('%s', (_what, wires, loom) => {
    expect(asked(wires, loom)).toEqual([]);
  });
});

test('two sizes that are bought in one, the next that is sold, are two wires', () => {
  const [two, three] = [2, 3].map((areaMm2) => ({ ...wirePart(`red-${areaMm2}`), size: mm2(areaMm2) }));
  const job = (size: number) =>
    jobOf({
      parts: [two, three].flatMap((part) => part ?? []),
      suppliers: [supplier('s')],
      offers: [byTheMetre('o', 's', 'red-3', '1')],
      loom: {
        points: points('A', 'B'),
        wires: [2, size].map((areaMm2, index) =>
          inWays(`W${index + 1}`, { size: mm2(areaMm2), colourRule: 'nextSizeUp' }),
        ),
      },
    });
  expect(told(job(3), 'wire-entered-twice')).toEqual([]);
  expect(told(job(2), 'wire-entered-twice')).toHaveLength(1);
});

test('of wires that name a circuit or none, two names alone part them', () => {
  const named = (id: string, circuit?: string) => wire(id, circuit === undefined ? {} : { circuit });
  expect(asked([named('1', 'a'), named('2')])).toEqual(['wire-entered-twice wires:1,2']);
  expect(asked([named('1'), named('2', 'a'), named('3', 'b')])).toEqual([
    'wire-entered-twice wires:1,2',
    'wire-entered-twice wires:1,3',
  ]);
  expect(asked([named('1', 'a'), named('2', 'b'), named('3', 'b')])).toEqual([
    'wire-entered-twice wires:2,3',
  ]);
});

test('each wire that has another like it before it is told once, whatever is in the loom', () => {
  const wires = fc.array(
    fc.record({
      turned: fc.boolean(),
      way: fc.constantFrom('1', '2'),
      base: fc.constantFrom('red' as const, 'green' as const),
      areaMm2: fc.constantFrom(1, 2),
    }),
    { maxLength: 12 },
  );
  fc.assert(
    fc.property(wires, (given) => {
      const list = given.map(({ turned, way, base, areaMm2 }, index) => {
        const [from, to] = [at('A', way), at('B', '1')];
        return wire(`W${String(index).padStart(2, '0')}`, {
          ...(turned ? { from: to, to: from } : { from, to }),
          colour: { base },
          size: mm2(areaMm2),
        });
      });
      const kinds = given.map(({ way, base, areaMm2 }) => `${way} ${base} ${areaMm2}`);
      const again = kinds.filter((kind, index) => kinds.indexOf(kind) < index);
      expect(asked(list)).toHaveLength(again.length);
    }),
    { numRuns: 40 },
  );
});
