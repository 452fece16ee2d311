import { expect, test } from 'vitest';
import { barrelAreaMm2, barrelText } from '../../worker/engine/trade/crimps.ts';
import type { Size } from '../../worker/engine/model/size.ts';

const size = (strands: number): Size => ({ system: 'imperialStrands', strands, strandInch: 0.012 });

test('the sum of a barrel is told with what each wire is called', () => {
  expect(barrelText([size(28)])).toBe('28/.012, called 2 mm²');
  expect(barrelText([size(14), { system: 'mm2', areaMm2: 1.5 }])).toBe(
    '14/.012, called 1 mm² + 1.5 mm² = 2.5 mm²',
  );
  expect(barrelText([{ system: 'awg', gauge: '18' }])).toBe('AWG 18, 0.823 mm² of copper');
});

test('no wires, and a wire of unknown copper, have no sum', () => {
  expect(barrelAreaMm2([])).toBeUndefined();
  expect(barrelAreaMm2([size(14), { system: 'sae', gauge: '29' }])).toBeUndefined();
});
