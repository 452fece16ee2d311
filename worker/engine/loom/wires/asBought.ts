import type { AskedLoom } from '../asked.ts';
import type { StandFor } from './substitutes.ts';

/**
 * The looms with each wire in the size in which it is bought, where its rule is the next size up and nobody offers its own:
 * that wire is what lies in bundles and sleeves, and what goes into terminals and seals. Places in lists stay, and so do looms that are bought made.
 */
export function asBought(looms: readonly AskedLoom[], standFor: StandFor): AskedLoom[] {
  return looms.map((asked) => {
    if (asked.boughtMade || !asked.loom.wires.some(({ colourRule }) => colourRule === 'nextSizeUp'))
      return asked;
    const wires = asked.loom.wires.map((wire) => {
      if (wire.colourRule !== 'nextSizeUp' || wire.supply !== 'buy' || wire.inCable !== undefined)
        return wire;
      const { spec, step } = standFor(wire, undefined);
      return step ? { ...wire, size: spec.size } : wire;
    });
    return { ...asked, loom: { ...asked.loom, wires } };
  });
}
