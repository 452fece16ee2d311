import type { Finding } from '../../model/finding.ts';
import { BOAT_TABLE, mostOfCopper } from '../../trade/boatCable.ts';
import type { WireOf } from '../graph/circuits.ts';
import { extremes } from '../protection/fuseSites.ts';
import type { CheckContext } from './context.ts';
import { atWire, sortWords } from './eachWire.ts';
import { fuseIn, fuseRule } from './fuses.ts';

/**
 * Wires with amps, or behind a fuse, whose rating nobody knows: each is told. Where a figure is beyond what copper of that
 * size carries by any table at hand, that is found even so.
 */
export function unrated(context: CheckContext): Finding[] {
  return context.circuits.all
    .flatMap(({ wires }) => wires)
    .filter(({ wire }) => !context.figures.of(wire).ratedAmps)
    .sort((a, b) => a.asked.index - b.asked.index || a.index - b.index)
    .flatMap((wire) => ofWire(context, wire));
}

function ofWire({ figures, protection }: CheckContext, of: WireOf): Finding[] {
  const { wire } = of;
  const { amps = 0 } = wire;
  const before = protection.mostBefore(of);
  if (amps <= 0 && !before) return [];
  const area = figures.of(wire).areaMm2;
  const most = area === undefined ? undefined : mostOfCopper(area);
  const fuse = before && extremes(before.site)?.most;
  const beyond: Finding[] = [];
  if (most && before && fuse && before.amps > most.amps)
    beyond.push({
      code: 'fuse-too-big',
      severity: 'stop',
      ...atWire(of),
      found: `${fuseIn(fuse, before.site)} before wire ${wire.id}, ${sortWords(wire)}, whose rating is not known`,
      limit: limitOf(most),
      source: `${copperSource(most)}; ${fuseRule(fuse)}`,
      todo: `Use a much smaller fuse or a larger wire. ${HOW}`,
    });
  if (most && amps > most.amps)
    beyond.push({
      code: 'wire-overloaded',
      severity: 'warning',
      ...atWire(of, 'amps'),
      found: `${amps} A through ${sortWords(wire)}, whose rating is not known`,
      limit: limitOf(most),
      source: copperSource(most),
      todo: `Use a larger size or correct the amps. ${HOW} If it flows only for moments, accept this with a note.`,
    });
  if (beyond.length > 0) return beyond;
  const stated = [
    ...(amps > 0 ? [`${amps} A`] : []),
    ...(before && fuse ? [`behind ${fuseIn(fuse, before.site)}`] : []),
  ];
  return [
    {
      code: 'rating-unknown',
      severity: 'warning',
      ...atWire(of, 'cableType'),
      found: `no rated amps are known for ${sortWords(wire)}, so this is not checked: ${stated.join(', ')}`,
      todo: HOW,
    },
  ];
}

const HOW =
  'State ratedAmps at the catalogue part for this cable type and size, from its maker’s data sheet; or correct the cable type if it is one with a published table.';

const limitOf = ({ amps }: { amps: number }) =>
  `${amps} A: more than copper of this size carries in any table that is used here`;

function copperSource({ amps, gauge }: { amps: number; gauge: string }): string {
  return `that table’s own limit, for AWG ${gauge}, the next size up: ${amps} A, ${BOAT_TABLE}; it is not a rating of this wire, which carries less`;
}
