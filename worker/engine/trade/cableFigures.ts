import type { Size } from '../model/size.ts';
import { areaMm2 } from './area.ts';
import { BOAT_TABLE, boatAmps } from './boatCable.ts';
import { cableWord, tableOf, type CableTable } from './cableTypes.ts';
import { copperMilliohmPerM } from './copper.ts';
import type { Figure } from './figure.ts';
import { classFiveMilliohmPerM, IEC_60228 } from './iec60228.ts';
import { ISO_6722, isoRow, isoUpperC, thickRowFrom } from './iso6722.ts';
import { METRIC_TRADE, metricTradeRow, OLD_STRANDS, oldStrandAmps } from './metricTrade.ts';
import { SAE_J1128, saeOutsideMm } from './saeJ1128.ts';
import { STRAND_INCH, tradeCopperMm2, tradeSizeOf } from './wireSizes.ts';

export type { Figure } from './figure.ts';

/** What is known of a wire. */
export interface CableFigures {
  /** Copper, mm². */
  areaMm2?: number;
  /** The most over its insulation, mm. */
  outsideDiameterMm?: Figure;
  /** The most at 20 °C, mΩ/m. */
  milliohmPerM?: Figure;
  temperatureMaxC?: Figure;
  ratedAmps?: Figure;
}

type Looked = { [K in Exclude<keyof CableFigures, 'areaMm2'>]?: Figure | undefined };

/**
 * What the published tables say of a cable type in a size. A type that no table knows has its area alone. Where a type is
 * known and its table has no resistance, that of its copper is reckoned, which leaves out the lay of the strands.
 */
export function cableFigures(cableType: string, size: Size): CableFigures {
  const table = tableOf(cableType);
  const looked = table === undefined ? {} : lookUp(table, cableWord(cableType), size);
  const known = {
    areaMm2: areaMm2(size),
    ...looked,
    milliohmPerM: looked.milliohmPerM ?? (table === undefined ? undefined : ofCopper(size)),
  };
  return Object.fromEntries(Object.entries(known).filter(([, value]) => value !== undefined));
}

function lookUp(table: CableTable, type: string, size: Size): Looked {
  switch (table) {
    case 'thinWall':
      return thinWall(type, size);
    case 'thickWall': {
      const row = isoRow(size);
      return {
        outsideDiameterMm: figure(row?.thickMm, `${ISO_6722}, thick wall`),
        milliohmPerM: figure(row?.milliohmPerM, `${ISO_6722}, the same conductor in either wall`),
      };
    }
    case 'trade':
      return trade(size);
    case 'old':
      return { ratedAmps: oldAmps(size) };
    case 'sae':
      return size.system === 'sae'
        ? { outsideDiameterMm: figure(saeOutsideMm(type, size.gauge), SAE_J1128) }
        : {};
    case 'class5':
    case 'class5Tinned':
      return size.system === 'mm2'
        ? {
            milliohmPerM: figure(classFiveMilliohmPerM(size.areaMm2, table === 'class5Tinned'), IEC_60228),
          }
        : {};
    case 'boat':
      return size.system === 'awg' ? { ratedAmps: figure(boatAmps(size.gauge), BOAT_TABLE) } : {};
  }
}

function thinWall(type: string, size: Size): Looked {
  const row = isoRow(size);
  const outside = /a$/.test(type) ? (row?.thin?.typeA ?? row?.thin?.mm) : row?.thin?.mm;
  return {
    outsideDiameterMm: figure(outside, `${ISO_6722}, thin wall`),
    milliohmPerM: figure(row?.milliohmPerM, `${ISO_6722}, thin wall`),
    temperatureMaxC: figure(isoUpperC(type), 'the type’s letters, as makers state them'),
  };
}

/** PVC vehicle cable. Its own table has no outside diameters: the standard's thick wall stands in, and is named so. */
function trade(size: Size): Looked {
  const sold = tradeSizeOf(size);
  const area = sold?.areaMm2 ?? (size.system === 'mm2' ? size.areaMm2 : undefined);
  const thick = area === undefined ? undefined : thickRowFrom(area);
  const row = sold && metricTradeRow(sold.strands);
  return {
    outsideDiameterMm: figure(
      thick?.thickMm,
      `${ISO_6722}, thick wall of ${thick?.areaMm2 ?? 0} mm²: there is no table of PVC vehicle cable for this size`,
    ),
    milliohmPerM: figure(row?.milliohmPerM, METRIC_TRADE),
    ratedAmps: figure(row?.amps, METRIC_TRADE) ?? oldAmps(size),
  };
}

function oldAmps(size: Size): Figure | undefined {
  const strands =
    tradeSizeOf(size)?.strands ??
    (size.system === 'imperialStrands' && size.strandInch === STRAND_INCH ? size.strands : undefined);
  return strands === undefined ? undefined : figure(oldStrandAmps(strands), OLD_STRANDS);
}

/** By the true area of the copper: an area in mm² is a name, and says nothing exact unless the trade's strands are known. */
function ofCopper(size: Size): Figure | undefined {
  const area = tradeCopperMm2(size) ?? (size.system === 'mm2' ? undefined : areaMm2(size));
  const source = size.system === 'awg' ? 'ASTM B258 diameter, ' : '';
  return figure(
    area === undefined ? undefined : copperMilliohmPerM(area),
    `${source}copper of IEC 60028, without the lay of strands`,
  );
}

function figure(value: number | undefined, source: string): Figure | undefined {
  return value === undefined ? undefined : { value, source };
}
