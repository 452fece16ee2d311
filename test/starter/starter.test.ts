import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { byCode } from '../../worker/engine/model/code.ts';
import { colourKey, type Shade } from '../../worker/engine/model/colour.ts';
import type { Part, WirePart } from '../../worker/engine/model/part.ts';
import { sizeLabel } from '../../worker/engine/model/size.ts';
import { areaMm2 } from '../../worker/engine/trade/area.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';
import { copperMilliohmPerM } from '../../worker/engine/trade/copper.ts';
import { barrelAreaMm2 } from '../../worker/engine/trade/crimps.ts';
import { widestHoleMm } from '../../worker/engine/trade/studs.ts';
import { tradeCopperMm2, tradeKey } from '../../worker/engine/trade/wireSizes.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { tableOf } from '../../worker/tables/tables.ts';
import { tableText, usedColumns } from '../../worker/tables/write.ts';
import { fits, ofKind, partOf, parts, wires, written } from './starterParts.ts';

const duplicates = (list: readonly string[]) => list.filter((each, index) => list.indexOf(each) !== index);

describe('the starter catalogue', () => {
  test('states each part once, by kind and then by code, as tables are written', async () => {
    for (const [name, things] of [
      ['parts', parts],
      ['fits', fits],
    ] as const) {
      const table = tableOf(name);
      const documents = things as unknown as Fields[];
      let text = '';
      for await (const chunk of tableText(table, documents, { columns: usedColumns(table, documents) }))
        text += chunk;
      expect(written(name)).toBe(text);
    }
    expect(duplicates(parts.map(({ code }) => code))).toEqual([]);
    const sorted = [...parts].sort((a, b) => byCode(a.kind, b.kind) || byCode(a.code, b.code));
    expect(parts.map(({ code }) => code)).toEqual(sorted.map(({ code }) => code));
  });

  test('names no maker, no supplier and no price, and no text is longer than a line', () => {
    const texts = parts.flatMap(({ description, note = '' }) => [description, note]);
    expect(texts.filter((text) => text.length > 100 || text.includes('\n'))).toEqual([]);
    expect(
      texts.filter((text) => /[£$€]|\b(price|supplier|shop|Ltd|www|https?)\b|\.com|\.co\./i.test(text)),
    ).toEqual([]);
    expect(parts.filter(({ maker, makerCode }) => maker ?? makerCode)).toEqual([]);
  });

  test('says of each part with a figure where the figure comes from', () => {
    const figures = (part: Part) => Object.values(part).some((value) => typeof value === 'number');
    expect(parts.filter((part) => figures(part) && part.note === undefined)).toEqual([]);
  });
});

const kebab = (shade: Shade) => shade.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** Nominal ratings of thin-wall cable to ISO 6722, class B: a cable maker's data sheet (mkgt.co.uk, Automotive_Cables.pdf). */
// prettier-ignore
const THIN_WALL_AMPS: Readonly<Record<string, number>> = {
  '0.5 mm²': 11, '0.75 mm²': 14, '1 mm²': 16.5, '1.5 mm²': 21, '2 mm²': 25, '2.5 mm²': 29, '3 mm²': 33, '4 mm²': 39, '6 mm²': 50,
};

describe('a wire of the starter catalogue', () => {
  test('has a code of its cable type, size and colour, and stands there once', () => {
    for (const { code, cableType, size, colour } of wires) {
      const label = sizeLabel(size).replace(' mm²', 'mm2').replaceAll(/[/ ]/g, '-').toLowerCase();
      const shades = [colour.base, ...(colour.tracer ? [colour.tracer] : [])].map(kebab);
      expect(code).toBe([cableType, label, ...shades].join('-'));
    }
    expect(partOf('pvc-vehicle-14-0.30-green-white').kind).toBe('wire');
    expect(partOf('thin-wall-1.5mm2-light-green').kind).toBe('wire');
    const sorts = wires.map(
      ({ cableType, size, colour }) => `${cableType} ${tradeKey(size)} ${colourKey(colour)}`,
    );
    expect(duplicates(sorts)).toEqual([]);
  });

  test('states what the tables of its cable say, and nothing where they say nothing', () => {
    for (const { code, cableType, size, ...stated } of wires) {
      const table = cableFigures(cableType, size);
      const own = (figure: { value: number; source: string } | undefined) =>
        // What stands in for a table that is not at hand is the engine's to say, with its reason.
        figure && !/no table|half an amp|without the lay/.test(figure.source) ? figure.value : undefined;
      const amps = cableType === 'thin-wall' ? THIN_WALL_AMPS[sizeLabel(size)] : own(table.ratedAmps);
      expect({
        code,
        milliohm: stated.resistanceMilliohmPerM,
        outsideMm: stated.outsideDiameterMm,
        amps: stated.ratedAmps,
      }).toEqual({ code, milliohm: own(table.milliohmPerM), outsideMm: own(table.outsideDiameterMm), amps });
    }
  });

  test('loses over 5 m at its rated amps the volts that the trade’s table prints (rydertowing.co.uk, cable table)', () => {
    const PRINTED = { 9: 0.845, 14: 0.827, 21: 0.797, 28: 0.823, 35: 0.816, 44: 0.765 };
    for (const [strands, volts] of Object.entries(PRINTED)) {
      const { resistanceMilliohmPerM = 0, ratedAmps = 0 } = partOf(
        `pvc-vehicle-${strands}-0.30-red`,
      ) as WirePart;
      expect((resistanceMilliohmPerM * ratedAmps * 5) / 1000).toBeCloseTo(volts, 3);
    }
  });

  test('conducts no better than its copper (IEC 60028: 1/58 Ω·mm²/m), and at most an eighth worse', () => {
    for (const { code, size, resistanceMilliohmPerM } of wires) {
      if (resistanceMilliohmPerM === undefined) continue;
      const copper = size.system === 'mm2' ? areaMm2(size) : tradeCopperMm2(size);
      const share = resistanceMilliohmPerM / copperMilliohmPerM(copper ?? NaN);
      expect([code, share > 1 && share < 1.125]).toEqual([code, true]);
    }
  });

  test.each([
    // ISO 6722, as a wire maker's pages restate it: flrya and flryb (thin wall), flyw (thick wall).
    ['thin-wall-0.5mm2-black', { resistanceMilliohmPerM: 37.1, outsideDiameterMm: 1.6 }],
    ['thin-wall-2.5mm2-black', { resistanceMilliohmPerM: 7.6, outsideDiameterMm: 3 }],
    ['thin-wall-6mm2-black', { resistanceMilliohmPerM: 3.14, outsideDiameterMm: 4.3 }],
    ['thick-wall-16mm2-black', { resistanceMilliohmPerM: 1.16, outsideDiameterMm: 8.3 }],
    ['thick-wall-50mm2-black', { outsideDiameterMm: 13.5 }],
    // rydertowing.co.uk, cable table.
    ['pvc-vehicle-14-0.30-green-white', { resistanceMilliohmPerM: 18.9, ratedAmps: 8.75 }],
    ['pvc-vehicle-44-0.30-brown', { resistanceMilliohmPerM: 6, ratedAmps: 25.5 }],
  ])('%s has the published figures', (code, figures) => {
    expect(partOf(code)).toMatchObject(figures);
  });
});

describe('the terminals of the starter catalogue', () => {
  const takes = (area: number, type: string) =>
    ofKind('terminal').filter(
      ({ terminalType, wireMinMm2 = Infinity, wireMaxMm2 = 0 }) =>
        terminalType === type && wireMinMm2 <= area && area <= wireMaxMm2,
    );
  const areas = [...new Set(wires.map(({ size }) => barrelAreaMm2([size]) ?? NaN))];

  test('hold every wire size of it in a ring, and up to 6 mm² in a blade of either gender', () => {
    for (const area of areas) expect([area, takes(area, 'ring').length > 0]).toEqual([area, true]);
    for (const area of areas.filter((each) => each <= 6)) {
      const genders = new Set(takes(area, 'blade').map(({ gender }) => gender));
      expect([area, [...genders].sort()]).toEqual([area, ['female', 'male']]);
    }
  });

  test('hold two wires of 1 mm² or of 14/0.30 together, as doubled wires of old looms ask', () => {
    for (const size of [partOf('pvc-vehicle-14-0.30-red'), partOf('thin-wall-1mm2-red')]) {
      const twice = barrelAreaMm2([(size as WirePart).size, (size as WirePart).size]) ?? NaN;
      for (const type of ['ring', 'blade', 'bullet', 'splice'])
        expect(takes(twice, type).length).toBeGreaterThan(0);
    }
  });

  test('have holes of ISO 273, fine series (engineeringhardware.com), which suit their studs', () => {
    const FINE = { 4: 4.3, 5: 5.3, 6: 6.4, 8: 8.4, 10: 10.5, 12: 13 } as Record<string, number>;
    const rings = ofKind('terminal').filter(({ terminalType }) => terminalType === 'ring');
    for (const { code, sizeMm } of rings) {
      const stud = /^(?:ring|lug)-m(\d+)-/.exec(code)?.[1] ?? '';
      expect([code, sizeMm]).toEqual([code, FINE[stud]]);
    }
    // The studs in inches and BA that their descriptions name, mm: 2 BA from memory.
    const also = { 5: [4.7, 4.7625], 6: [6.35], 8: [7.9375], 10: [9.525], 12: [12.7] };
    for (const [stud, studsMm] of Object.entries(also))
      for (const studMm of studsMm) {
        const hole = FINE[stud] ?? NaN;
        expect([studMm, hole >= studMm && hole <= (widestHoleMm(studMm) ?? NaN)]).toEqual([studMm, true]);
      }
  });
});

describe('the rest of the starter catalogue', () => {
  test('has 2:1 heat-shrink with the bores and walls of a data sheet to MIL-I-23053 (CABAC), and the ratio that each code names', () => {
    expect(partOf('shrink-2-1-4.8-black')).toMatchObject({ boreMm: 4.8, recoveredBoreMm: 2.4, wallMm: 0.48 });
    expect(partOf('shrink-2-1-19.1-black')).toMatchObject({
      boreMm: 19.1,
      recoveredBoreMm: 9.5,
      wallMm: 0.69,
    });
    for (const { code, sleeveType, boreMm = 0, recoveredBoreMm = 0 } of ofKind('sleeve')) {
      if (sleeveType !== 'heatShrink') continue;
      const ratio = code.startsWith('shrink-2-1') ? 2 : 3;
      // 19.1 and 19 mm are rounded from an inch fraction.
      expect([code, Math.abs(boreMm / recoveredBoreMm - ratio) < 0.2]).toEqual([code, true]);
    }
  });

  test('states the basis of every fuse: glass by what blows it, blade and ceramic by what it carries', () => {
    const fuses = ofKind('device').filter(({ deviceType }) => deviceType === 'fuse');
    for (const { code, fuseBasis, ratedAmps } of fuses) {
      expect([code, fuseBasis]).toEqual([code, code.includes('glass') ? 'blow' : 'continuous']);
      expect([code, code.split('-')[2]]).toEqual([code, `${ratedAmps}`]);
    }
  });

  test('has no sleeve, clip or grommet whose smaller figure is the larger', () => {
    for (const { code, holdsMinMm = 0, holdsMaxMm = Infinity } of ofKind('sleeve'))
      expect([code, holdsMinMm < holdsMaxMm]).toEqual([code, true]);
    for (const { code, boreMm = 0, panelHoleMm = Infinity } of ofKind('fitting'))
      expect([code, boreMm < panelHoleMm]).toEqual([code, true]);
  });
});

describe('its README', () => {
  const readme = readFileSync(new URL('../../examples/starter/README.md', import.meta.url), 'utf8');

  test('counts the parts of each group, and leaves none out', () => {
    const rows = [...readme.matchAll(/^\|[^|]+\| `([^`]+)` \| +(\d+) \|/gm)];
    const groups = rows.map(([, start = '', count]) => ({ start, count: Number(count) }));
    const of = (start: string) => parts.filter(({ code }) => code.startsWith(start)).length;
    expect(groups.map(({ start }) => ({ start, count: of(start) }))).toEqual(groups);
    expect(groups.reduce((sum, { count }) => sum + count, 0)).toBe(parts.length);
    expect(readme).toContain(`${parts.length} ordinary parts of the trade, and ${fits.length} fits`);
  });

  test('gives no code as an example that is not there', () => {
    const rules = readme.slice(readme.indexOf('## How codes are made'));
    const codes = [...rules.matchAll(/`([a-z][a-z0-9.-]+)`/g)].map(([, code = '']) => code);
    expect(codes.length).toBeGreaterThan(8);
    for (const code of codes) expect(partOf(code).code).toBe(code);
  });
});
