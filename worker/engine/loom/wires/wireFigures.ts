import { byCode } from '../../model/code.ts';
import { addTo } from '../../model/group.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part, WirePart } from '../../model/part.ts';
import { sizeKey, type Size } from '../../model/size.ts';
import { cableFigures, type CableFigures } from '../../trade/cableFigures.ts';
import { tradeKey } from '../../trade/wireSizes.ts';
import { isWirePart } from '../../job/wireSpec.ts';

/** What is known of the wires of a job: by the catalogue's parts first, then by the published tables. */
export interface WireFigures {
  of(wire: Sort): CableFigures;
}

type Sort = Pick<Wire, 'cableType' | 'size'>;

/** The figures that a part may state, under the names of ours, and which of two is the cautious one. */
const STATED = [
  { figure: 'outsideDiameterMm', field: 'outsideDiameterMm', cautious: 'greatest' },
  { figure: 'milliohmPerM', field: 'resistanceMilliohmPerM', cautious: 'greatest' },
  { figure: 'temperatureMaxC', field: 'temperatureMaxC', cautious: 'least' },
  { figure: 'ratedAmps', field: 'ratedAmps', cautious: 'least' },
] as const;

/**
 * Figures by cable type and size. What a wire part of that type and size states, in any colour, goes before the tables;
 * where parts differ the cautious figure holds: the greatest diameter and resistance, the least temperature and amps.
 */
export function wireFiguresOf(parts: readonly Part[]): WireFigures {
  const bySort = new Map<string, WirePart[]>();
  for (const part of parts.filter(isWirePart).sort((a, b) => byCode(a.code, b.code)))
    addTo(bySort, sortKey(part), part);
  const known = new Map<string, CableFigures>();
  const looked = (wire: Sort) => {
    const key = `${wire.cableType}:${sizeKey(wire.size)}`;
    const figures = known.get(key) ?? {
      ...cableFigures(wire.cableType, wire.size),
      ...statedBy(bySort.get(sortKey(wire)) ?? []),
    };
    known.set(key, figures);
    return figures;
  };
  // Many checks ask of the same wire: its key is made once.
  const ofWire = new WeakMap<Sort, CableFigures>();
  return {
    of: (wire) => {
      const figures = ofWire.get(wire) ?? looked(wire);
      ofWire.set(wire, figures);
      return figures;
    },
  };
}

/** One key for all wire of a cable type and size, whatever its colour and mark. */
export function sortKey({ cableType, size }: { cableType: string; size: Size }): string {
  return `${cableType}:${tradeKey(size)}`;
}

function statedBy(parts: readonly WirePart[]): CableFigures {
  return Object.fromEntries(
    STATED.flatMap(({ figure, field, cautious }) => {
      const stated = parts.flatMap((part) => {
        const value = part[field];
        return value === undefined ? [] : [{ code: part.code, value }];
      });
      const [first, ...others] = stated;
      if (!first) return [];
      const worst = others.reduce(
        (held, next) =>
          (cautious === 'least' ? next.value < held.value : next.value > held.value) ? next : held,
        first,
      );
      const differ = others.some(({ value }) => value !== first.value);
      const source = differ
        ? `part ${worst.code}, the ${cautious} that parts of this wire state`
        : `part ${worst.code}`;
      return [[figure, { value: worst.value, source }] as const];
    }),
  );
}
