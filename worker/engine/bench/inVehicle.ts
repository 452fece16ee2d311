import { SIDES, type End, type Wire } from '../model/loom.ts';
import { sharedKey } from '../loom/counts/terminals.ts';

/**
 * Finds whether an end is finished in the vehicle: it says so, or an end that shares its terminal does, because a terminal is
 * put on all its wires at once.
 */
export function finishedInVehicle(wires: readonly Wire[]): (end: End) => boolean {
  const late = new Set<string>();
  for (const wire of wires)
    for (const side of SIDES) {
      const end = wire[side];
      if (end.terminateInVehicle === true && end.sharesTerminal !== undefined) late.add(sharedKey(end));
    }
  return (end) =>
    end.terminateInVehicle === true || (end.sharesTerminal !== undefined && late.has(sharedKey(end)));
}
