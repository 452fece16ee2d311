import { describe, expect, test } from 'vitest';
import { nearMisses } from '../../worker/engine/job/nearMisses.ts';
import type { Colour } from '../../worker/engine/model/colour.ts';
import type { WirePart } from '../../worker/engine/model/part.ts';
import { mm2 } from './fixtures.ts';

const wire = (code: string, areaMm2: number, colour: Colour, cableType = 'thin-wall'): WirePart => ({
  kind: 'wire',
  code,
  description: code,
  cableType,
  size: mm2(areaMm2),
  colour,
});
const near = (wires: WirePart[], colour: Colour, areaMm2 = 1) =>
  nearMisses(wires)({ cableType: 'thin-wall', size: mm2(areaMm2), colour }).map(({ code }) => code);

describe('the wires that come nearest to one that nobody has', () => {
  const redWhite: Colour = { base: 'red', tracer: 'white' };

  test('are its colour in the next sizes, larger ones first, then its size in near colours', () => {
    const wires = [
      wire('black', 1, { base: 'black' }),
      wire('plain', 1, { base: 'red' }),
      wire('other-tracer', 1, { base: 'red', tracer: 'green' }),
      wire('pink-white', 1, { base: 'pink', tracer: 'white' }),
      wire('half', 0.5, redWhite),
      wire('three', 3, redWhite),
      wire('two', 2, redWhite),
    ];
    expect(near(wires, redWhite)).toEqual(['two', 'three', 'half', 'pink-white', 'plain']);
  });

  test('leave room for near colours, however many sizes there are', () => {
    const sizes = [1.5, 2, 3, 4.5, 6].map((area) => wire(`red-${area}`, area, redWhite));
    expect(near([...sizes, wire('plain', 1, { base: 'red' })], redWhite)).toEqual([
      'red-1.5',
      'red-2',
      'red-3',
      'plain',
    ]);
  });

  test('are of another cable type where there is none of these, and of any colour where there is not that', () => {
    const other = wire('pvc', 1, redWhite, 'pvc');
    const black = wire('black', 1, { base: 'black' });
    expect(near([other, black], redWhite)).toEqual(['pvc']);
    expect(near([black], redWhite)).toEqual(['black']);
    expect(near([wire('far', 2, { base: 'black' })], redWhite)).toEqual([]);
  });
});
