import { describe, expect, test } from 'vitest';
import { colourOfLetters, lettersOf } from '../../worker/engine/model/colourLetters.ts';
import { LoomRevision } from '../../worker/engine/model/loom.ts';

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
    expect(faultsOf({ letters: 'GW' }, 'words')[0]).toMatch(/colourSystem: iec60757, bsAu7 or german/);
  });

  test('is stated once', () => {
    expect(faultsOf({ base: 'green', letters: 'G' })[0]).toMatch(/not in both/);
    expect(faultsOf({})[0]).toMatch(/a base shade, or letters/);
  });
});
