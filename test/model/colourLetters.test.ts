import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { Shade } from '../../worker/engine/model/colour.ts';
import { colourOfLetters, lettersOf, readingsOf } from '../../worker/engine/model/colourLetters.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { LoomRevision } from '../../worker/engine/model/loom.ts';
import { jobOf, points, wire } from '../engine/fixtures.ts';

describe('letters of a colour system', () => {
  // "GN" in the three systems: IEC 60757 (GOST 28763-90), BS AU 7 (jcna.com), German (kabelkonfektion.com).
  test('mean another colour in another system: GN', () => {
    expect(colourOfLetters('GN', 'iec60757')).toEqual({ base: 'green' });
    expect(colourOfLetters('GN', 'german')).toEqual({ base: 'green' });
    expect(colourOfLetters('GN', 'bsAu7')).toEqual({ base: 'green', tracer: 'brown' });
  });

  // BS AU 7, jcna.com: base first, tracer second, "WG" white with green; S is slate. LG from memory.
  test('of BS AU 7 name base and tracer, light green among them', () => {
    expect(colourOfLetters('WG', 'bsAu7')).toEqual({ base: 'white', tracer: 'green' });
    expect(colourOfLetters('LGN', 'bsAu7')).toEqual({ base: 'lightGreen', tracer: 'brown' });
    expect(colourOfLetters('GLG', 'bsAu7')).toEqual({ base: 'green', tracer: 'lightGreen' });
    expect(colourOfLetters('S', 'bsAu7')).toEqual({ base: 'grey' });
  });

  test('may be small, and parted by a stroke or a hyphen', () => {
    for (const text of ['swge', 'SW/GE', 'sw-ge', 'sw / ge'])
      expect(colourOfLetters(text, 'german')).toEqual({ base: 'black', tracer: 'yellow' });
  });

  test('of another system, or too many, are none', () => {
    for (const text of ['GD', 'X', 'GWR', 'G/', '/G', 'L'])
      expect(colourOfLetters(text, 'bsAu7')).toBeUndefined();
  });

  // IEC 60757:2021 joins two colours in the order of its table: red and blue are RDBU (profsector.com).
  test('of IEC 60757 are written in the order of its table, whichever is the tracer', () => {
    expect(lettersOf({ base: 'red', tracer: 'blue' }, 'iec60757')).toBe('RDBU');
    expect(lettersOf({ base: 'blue', tracer: 'red' }, 'iec60757')).toBe('RDBU');
    expect(lettersOf({ base: 'blue', tracer: 'red' }, 'bsAu7')).toBe('UR');
    expect(lettersOf({ base: 'lilac' }, 'bsAu7')).toBeUndefined();
    expect(lettersOf({ base: 'red' }, 'words')).toBeUndefined();
  });

  test('of IEC 60757 are read in two ways, which the base settles', () => {
    const [red, blue] = [
      { base: 'red', tracer: 'blue' },
      { base: 'blue', tracer: 'red' },
    ];
    expect(readingsOf('RDBU', 'iec60757')).toEqual([red, blue]);
    expect(colourOfLetters('RDBU', 'iec60757')).toBeUndefined();
    expect(colourOfLetters('RDBU', 'iec60757', 'red')).toEqual(red);
    expect(colourOfLetters('RDBU', 'iec60757', 'blue')).toEqual(blue);
    expect(colourOfLetters('RDBU', 'iec60757', 'green')).toBeUndefined();
    expect(readingsOf('UR', 'bsAu7')).toEqual([blue]);
  });

  // IEC 60757:2021: green and yellow are joined as GNYE alone, though yellow stands before green in the table.
  test('of IEC 60757 for green and yellow are one pair, GNYE, which leaves nothing open', () => {
    const pair = { base: 'green', tracer: 'yellow' } as const;
    expect(lettersOf(pair, 'iec60757')).toBe('GNYE');
    expect(lettersOf({ base: 'yellow', tracer: 'green' }, 'iec60757')).toBe('GNYE');
    expect(colourOfLetters('GNYE', 'iec60757')).toEqual(pair);
    expect(colourOfLetters('GNYE', 'iec60757', 'yellow')).toEqual({ base: 'yellow', tracer: 'green' });
    expect(colourOfLetters('YEGN', 'iec60757')).toBeUndefined();
  });

  test('read back what was printed, in every system, once the base of two colours is stated', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('iec60757' as const, 'bsAu7' as const, 'german' as const),
        fc.constantFrom(...Shade.options),
        fc.option(fc.constantFrom(...Shade.options), { nil: undefined }),
        (system, base, tracer) => {
          fc.pre(base !== tracer);
          const colour = { base, ...(tracer === undefined ? {} : { tracer }) };
          const letters = lettersOf(colour, system);
          fc.pre(letters !== undefined);
          expect(colourOfLetters(letters, system, base)).toEqual(colour);
        },
      ),
    );
  });
});

describe('a wire’s colour', () => {
  const faultsOf = (colour: object, colourSystem = 'bsAu7') => {
    const end = (point: string) => ({ point, join: 'bare' });
    const wire = {
      id: '1',
      cableType: 'pvc',
      size: { system: 'mm2', areaMm2: 1 },
      colour,
      from: end('A'),
      to: end('B'),
    };
    const points = ['A', 'B'].map((id) => ({ id, kind: 'flyingLead' }));
    const read = LoomRevision.safeParse({ name: 'l', colourSystem, points, wires: [wire] });
    return read.success ? [] : read.error.issues.map(({ path, message }) => `${path.join('/')}: ${message}`);
  };

  test('is stated in shades or in the letters of the loom’s system', () => {
    expect(faultsOf({ letters: 'GW' })).toEqual([]);
    expect(faultsOf({ base: 'green', tracer: 'white' })).toEqual([]);
  });

  test('in letters of the wrong system, or of none, is refused with the letters that there are', () => {
    expect(faultsOf({ letters: 'GD' })[0]).toMatch(/^wires\/0\/colour\/letters: letters of BS AU 7 .*U blue/);
    expect(faultsOf({ letters: 'GW' }, 'words')[0]).toMatch(/colourSystem to iec60757, bsAu7 or german/);
  });

  test('is stated once', () => {
    expect(faultsOf({ base: 'green', letters: 'G' })[0]).toMatch(/not in both/);
    expect(faultsOf({})[0]).toMatch(/the base shade, or the letters/);
  });

  test('in two letters of IEC 60757 is asked for its base, with both readings', () => {
    const of = (more: object) => faultsOf({ letters: 'RDBU', ...more }, 'iec60757');
    expect(of({})).toHaveLength(1);
    expect(of({})[0]).toMatch(
      /^wires\/0\/colour\/letters: RDBU is red with blue tracer or blue with red tracer.*"base": "red" or "base": "blue"/,
    );
    expect(of({ base: 'red' })).toEqual([]);
    expect(of({ base: 'blue' })).toEqual([]);
    expect(of({ base: 'blue', tracer: 'red' })).toEqual([]);
    expect(of({ base: 'green' })[0]).toMatch(/the colour also states base green; state/);
    expect(of({ base: 'blue', tracer: 'green' })[0]).toMatch(/base blue with tracer green/);
    expect(of({ tracer: 'blue' })[0]).toMatch(/the colour also states tracer blue/);
    expect(faultsOf({ letters: 'GNYE' }, 'iec60757')).toEqual([]);
    expect(faultsOf({ letters: 'RD' }, 'iec60757')).toEqual([]);
  });

  test('in letters whose base is stated is worked as that colour, and working it again changes nothing', () => {
    const job = jobOf({
      loom: {
        colourSystem: 'iec60757',
        points: points('A', 'B'),
        wires: [
          wire('1', { colour: { letters: 'RDBU', base: 'blue' } }),
          wire('2', { colour: { letters: 'RDBU', base: 'red' } }),
        ],
      },
    });
    const worked = normaliseJob(job);
    expect(worked.looms[0]?.wires.map(({ colour }) => colour)).toEqual([
      { base: 'blue', tracer: 'red' },
      { base: 'red', tracer: 'blue' },
    ]);
    expect(normaliseJob(Job.parse(worked))).toEqual(worked);
  });
});
