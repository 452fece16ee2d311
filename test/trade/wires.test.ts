import { describe, expect, test } from 'vitest';
import type { Size } from '../../worker/engine/model/size.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';

const mm2 = (areaMm2: number): Size => ({ system: 'mm2', areaMm2 });

describe('which table is read', () => {
  test('follows from the cable type: one area has other figures as thin wall, thick wall, PVC and class 5', () => {
    const ohms = ['FLRY', 'pvc', 'class-5', 'class-5-tinned'].map(
      (type) => cableFigures(type, mm2(1.5)).milliohmPerM?.value,
    );
    expect(ohms).toEqual([12.7, 12.5, 13.3, 13.7]);
    expect(cableFigures('FLRY', mm2(1.5)).outsideDiameterMm?.value).toBe(2.4);
    expect(cableFigures('FLYW', mm2(1.5)).outsideDiameterMm?.value).toBe(3);
  });

  test('is the same in capitals, and 1 mm², 14/0.30 and 14/.012 read one row of it', () => {
    const marks: Size[] = [
      mm2(1),
      { system: 'metricStrands', strands: 14, strandMm: 0.3 },
      { system: 'imperialStrands', strands: 14, strandInch: 0.012 },
    ];
    for (const type of ['pvc-vehicle', 'PVC', 'Thin-Wall', 'cotton']) {
      const read = marks.map((size) => ({ ...cableFigures(type, size), areaMm2: 0 }));
      expect(read[1]).toEqual({ ...read[0] });
      expect(read[2]).toEqual({ ...read[0] });
      expect(read[0]).toHaveProperty('milliohmPerM');
    }
  });

  test('is that of old strands where the metric one ends: half an amp each, under every mark of the size', () => {
    const marks: Size[] = [
      mm2(4.5),
      { system: 'metricStrands', strands: 65, strandMm: 0.3 },
      { system: 'imperialStrands', strands: 65, strandInch: 0.012 },
    ];
    const rated = marks.map((size) => cableFigures('pvc', size).ratedAmps?.value);
    expect(rated).toEqual([32.5, 32.5, 32.5]);
    const odd: Size = { system: 'imperialStrands', strands: 30, strandInch: 0.012 };
    expect(cableFigures('rubber', odd).ratedAmps?.value).toBe(15);
    expect(cableFigures('rubber', { ...odd, strandInch: 0.01 }).ratedAmps).toBeUndefined();
  });

  test('is never SAE’s for an AWG size', () => {
    const byGauge = (system: 'awg' | 'sae') => cableFigures('GPT', { system, gauge: '14' });
    expect(byGauge('sae').outsideDiameterMm?.value).toBe(3.2);
    expect(byGauge('awg')).not.toHaveProperty('outsideDiameterMm');
    expect(byGauge('sae').milliohmPerM?.value ?? 0).toBeGreaterThan(byGauge('awg').milliohmPerM?.value ?? 0);
  });

  test('is the boat’s for boat cable alone', () => {
    const rated = (type: string) => cableFigures(type, { system: 'awg', gauge: '18' }).ratedAmps?.value;
    expect(rated('marine-tinned')).toBe(20);
    for (const type of ['pvc', 'thin-wall', 'GPT', 'steamboat']) expect(rated(type)).toBeUndefined();
  });

  test('is none for a type that no table knows: it has its area, and is not taken for copper', () => {
    expect(cableFigures('fusible', mm2(0.5))).toEqual({ areaMm2: 0.5 });
    expect(Object.keys(cableFigures('resistor', { system: 'awg', gauge: '24' }))).toEqual(['areaMm2']);
  });

  test('names a standard’s thick wall as standing in for PVC, of the next area up where it has not that one', () => {
    const nine = cableFigures('pvc', {
      system: 'metricStrands',
      strands: 9,
      strandMm: 0.3,
    }).outsideDiameterMm;
    expect(nine?.value).toBe(2.5);
    expect(nine?.source).toContain(
      'thick wall of 0.75 mm²: there is no table of PVC vehicle cable for this size',
    );
  });

  test('ISO 6722 asks for less resistance than IEC 60228 in every area that both have', () => {
    const both = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16].map((area) => [
      cableFigures('thick-wall', mm2(area)).milliohmPerM?.value ?? NaN,
      cableFigures('class-5', mm2(area)).milliohmPerM?.value ?? NaN,
    ]);
    for (const [vehicle = NaN, flexible = NaN] of both) expect(vehicle).toBeLessThan(flexible);
  });
});
