import { describe, expect, test } from 'vitest';
import { checkLoom } from '../../worker/engine/checkLoom.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { Fit } from '../../worker/engine/model/fit.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { WirePart } from '../../worker/engine/model/part.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';
import { barrelAreaMm2 } from '../../worker/engine/trade/crimps.ts';
import { jobOf, unhurried } from '../engine/fixtures.ts';
import { fits, ofKind, partOf, parts, wires } from './starterParts.ts';

type LoomInput = Partial<JobInput['looms'][number]>;
type WireInput = NonNullable<LoomInput['wires']>[number];

function found(loom: LoomInput): Finding[] {
  return checkLoom(jobOf({ parts, fits, loom }), unhurried).findings;
}

const grave = (findings: Finding[]) =>
  findings
    .filter(({ severity }) => severity !== 'note')
    .map(({ code, found, limit }) => `${code}: ${found}; ${limit ?? ''}`);

const wireOf = ({ cableType, size, colour }: WirePart) => ({
  cableType,
  size,
  colour,
  length: { mm: 500, basis: 'route' as const },
});

const outsideMm = ({ cableType, size }: WirePart) =>
  cableFigures(cableType, size).outsideDiameterMm?.value ?? NaN;

/** The thickest wire of the catalogue that a terminal's range holds. */
function thickestFor(code: string): WirePart {
  const { wireMinMm2 = Infinity, wireMaxMm2 = 0 } =
    ofKind('terminal').find((part) => part.code === code) ?? {};
  const held = wires.filter(({ size }) => {
    const area = barrelAreaMm2([size]) ?? NaN;
    return wireMinMm2 <= area && area <= wireMaxMm2;
  });
  const [thickest] = held.sort((a, b) => outsideMm(b) - outsideMm(a));
  if (!thickest) throw new Error(`no wire of the catalogue goes in ${code}`);
  return thickest;
}

/** A loom in which each of these fits is made use of once, the wire as thick as its terminal takes. */
function loomOf(used: readonly Fit[]): LoomInput {
  const points = used.map(({ from, relation }, index) =>
    relation === 'takes'
      ? { id: `P${index}`, kind: 'joiner' as const, part: from }
      : { id: `P${index}`, kind: 'flyingLead' as const },
  );
  const toFree = (id: string, terminal: string, more: Partial<WireInput['from']> = {}): WireInput => ({
    id,
    ...wireOf(thickestFor(terminal)),
    from: { point: `P${id.split('.')[0] ?? ''}`, join: 'crimp', terminal: { part: terminal }, ...more },
    to: { point: 'Z', way: id, join: 'bare' },
  });
  return {
    points: [...points, { id: 'Z', kind: 'flyingLead' }],
    wires: used.flatMap(({ from, relation, to }, index) =>
      relation === 'takes'
        ? [toFree(`${index}.1`, to), toFree(`${index}.2`, to)]
        : [toFree(`${index}`, to, { cover: { part: from } })],
    ),
  };
}

describe('the fits of the starter catalogue', () => {
  test('are of parts that it has, proposed until somebody tries them, in order', () => {
    for (const { from, to } of fits) expect([partOf(from).code, partOf(to).code]).toEqual([from, to]);
    expect(new Set(fits.map(({ status }) => status))).toEqual(new Set(['proposed']));
    const keys = fits.map(({ from, relation, to }) => `${from} ${relation} ${to}`);
    expect(keys).toEqual([...new Set(keys)].sort());
  });

  test('name for every blade a cover, for every old bullet a joiner, and for every boot something to cover', () => {
    const of = (relation: string, side: 'from' | 'to') =>
      new Set(fits.filter((fit) => fit.relation === relation).map((fit) => fit[side]));
    const terminals = ofKind('terminal');
    const covered = of('covers', 'to');
    const blades = terminals.filter(({ terminalType }) => terminalType === 'blade');
    expect(blades.filter(({ code }) => !covered.has(code))).toEqual([]);
    const [joined, isMated] = [of('takes', 'to'), new Set([...of('mates', 'from'), ...of('mates', 'to')])];
    const bullets = terminals.filter(({ terminalType }) => terminalType === 'bullet');
    expect(bullets.filter(({ code }) => !joined.has(code) && !isMated.has(code))).toEqual([]);
    const covers = of('covers', 'from');
    expect([...ofKind('cover'), ...ofKind('boot')].filter(({ code }) => !covers.has(code))).toEqual([]);
  });

  test('mate a female with a male of one kind and width', () => {
    const halfOf = (code: string) => {
      const { terminalType, gender, sizeMm } = ofKind('terminal').find((part) => part.code === code) ?? {};
      return { terminalType, gender, sizeMm };
    };
    for (const { from, to } of fits.filter(({ relation }) => relation === 'mates')) {
      expect(halfOf(from).gender).toBe('female');
      expect(halfOf(to)).toEqual({ ...halfOf(from), gender: 'male' });
    }
  });

  test('pass the checks, each at the thickest wire that its terminal takes', () => {
    const used = fits.filter(({ relation }) => relation !== 'mates');
    const findings = found(loomOf(used));
    expect(grave(findings)).toEqual([]);
    // The checks have read each of them.
    const notTried = findings.filter(({ code }) => code === 'fit-not-confirmed');
    expect(notTried.length).toBeGreaterThan(used.length / 2);
  });

  test('are noticed where a boot is too narrow for its wire', () => {
    const narrow = { from: 'boot-4', relation: 'covers', to: 'lug-m8-25', status: 'proposed' } as const;
    expect(grave(found(loomOf([narrow]))).join()).toMatch(/cover-too-small/);
  });
});

describe('a loom of starter parts', () => {
  const pvc = (strands: number, base: 'brown' | 'green' | 'black', tracer?: 'blue' | 'white') => ({
    cableType: 'pvc-vehicle',
    size: { system: 'metricStrands' as const, strands, strandMm: 0.3 },
    colour: { base, ...(tracer ? { tracer } : {}) },
  });
  const thinWall = (areaMm2: number, base: 'red' | 'black') => ({
    cableType: 'thin-wall',
    size: { system: 'mm2' as const, areaMm2 },
    colour: { base },
  });
  const crimped = (point: string, terminal: string, more: Partial<WireInput['from']> = {}) => ({
    point,
    join: 'crimp' as const,
    terminal: { part: terminal },
    ...more,
  });
  const blade = (point: string, more: Partial<WireInput['from']> = {}, size = '2.5') =>
    crimped(point, `blade-6.3-female-${size}`, { cover: { part: 'cover-blade-6.3-female' }, ...more });
  const loom: LoomInput = {
    points: [
      { id: 'feed', kind: 'stud', label: 'Solenoid, battery side', studMm: 8, feed: {} },
      {
        id: 'fuses',
        kind: 'device',
        part: 'fuse-box-blade-4',
        supply: 'buy',
        pins: ['1 in', '1 out', '2 in', '2 out', '3 in', '3 out', '4 in', '4 out'],
      },
      { id: 'middle', kind: 'breakout' },
      { id: 'joiner', kind: 'joiner', part: 'joiner-4.7-4' },
      { id: 'lamp', kind: 'device', label: 'Lamp' },
      { id: 'lamp2', kind: 'flyingLead', label: 'Second lamp' },
      { id: 'pump', kind: 'device', label: 'Pump' },
      { id: 'earth', kind: 'stud', label: 'Earth stud', studMm: 6 },
    ],
    branches: [
      { id: 'B1', from: 'feed', to: 'fuses', lengthMm: 900 },
      { id: 'B2', from: 'fuses', to: 'middle', lengthMm: 1400 },
      { id: 'B3', from: 'middle', to: 'joiner', lengthMm: 300 },
      { id: 'B4', from: 'joiner', to: 'lamp', lengthMm: 250 },
      { id: 'B5', from: 'joiner', to: 'lamp2', lengthMm: 250 },
      { id: 'B6', from: 'middle', to: 'pump', lengthMm: 500 },
      { id: 'B7', from: 'pump', to: 'earth', lengthMm: 200 },
    ],
    wires: [
      {
        id: 'W1',
        ...pvc(44, 'brown', 'blue'),
        from: crimped('feed', 'ring-m8-6'),
        to: blade('fuses', { way: '1 in', sharesTerminal: 'in' }, '6'),
        via: ['B1'],
        amps: 12,
      },
      {
        id: 'W2',
        fuse: { ratingAmps: 5, basis: 'continuous' },
        ...pvc(14, 'green', 'white'),
        from: blade('fuses', { way: '1 out', terminal: { part: 'blade-6.3-female-1.5' } }),
        to: crimped('joiner', 'bullet-4.7-1', { way: '1' }),
        via: ['B2', 'B3'],
        amps: 4,
      },
      {
        id: 'W3',
        ...pvc(14, 'green', 'white'),
        from: crimped('joiner', 'bullet-4.7-1', { way: '2' }),
        to: blade('lamp', { way: '56b', terminal: { part: 'blade-6.3-female-1.5' } }),
        via: ['B4'],
        amps: 2,
      },
      {
        id: 'W4',
        ...pvc(14, 'green', 'white'),
        from: crimped('joiner', 'bullet-4.7-1', { way: '3' }),
        to: { point: 'lamp2', join: 'bare' },
        via: ['B5'],
        amps: 2,
      },
      {
        id: 'W5',
        ...pvc(44, 'brown', 'blue'),
        from: crimped('feed', 'ring-m8-6'),
        to: blade('fuses', { way: '2 in' }, '6'),
        via: ['B1'],
        amps: 8,
      },
      {
        id: 'W6',
        fuse: { ratingAmps: 10, basis: 'continuous' },
        ...thinWall(2, 'red'),
        from: blade('fuses', { way: '2 out' }),
        to: blade('pump', { way: '+' }),
        via: ['B2', 'B6'],
        amps: 8,
      },
      {
        id: 'W7',
        ...thinWall(2, 'black'),
        from: blade('pump', { way: '-' }),
        to: crimped('earth', 'ring-m6-2.5'),
        via: ['B7'],
        amps: 8,
      },
    ],
    coverings: [
      { id: 'C1', kind: 'braided', over: ['B2'] },
      { id: 'C2', kind: 'pvc', over: ['B1'] },
      { id: 'C3', kind: 'heatShrink', lengthMm: 60, part: 'shrink-2-1-9.5-black' },
      { id: 'C4', kind: 'tape', part: 'tape-cloth-19', over: ['B3'] },
    ],
    fittings: [
      { part: 'grommet-16-12', branch: 'B1', atMm: 400 },
      { part: 'p-clip-10', branch: 'B2', atMm: 700 },
    ],
    parts: [
      { part: 'fuse-blade-5', quantity: 1 },
      { part: 'fuse-blade-10', quantity: 1 },
    ],
  };

  test('passes the checks with nothing to fix and no warning', () => {
    expect(grave(found(loom))).toEqual([]);
  });
});
