import type { BenchCable, BenchCovering, BenchFitting, BenchLoom } from '../model/bench.ts';
import type { Supply } from '../model/supply.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import { finishedOf } from '../loom/coverings/finished.ts';
import type { Laid } from '../loom/coverings/layers.ts';
import { coveringPieces } from '../loom/coverings/pieces.ts';
import { coresByCable, wayOfCable } from '../loom/graph/branches.ts';
import { cablePieces } from '../loom/lengths/cables.ts';
import type { Cuts } from './cuts.ts';

/** What lies on the branches of a loom beside its wires: cables, coverings, fittings, each in its order. */
export function laidOf(
  asked: AskedLoom,
  context: CheckContext,
  cuts: Cuts,
): Pick<BenchLoom, 'cables' | 'coverings' | 'fittings'> {
  const { loom } = asked;
  const laid = context.coverings.of(loom.code);
  const pieces = coveringPieces(asked, laid);
  return {
    cables: cablesOf(asked, context, cuts),
    coverings: laid.map((item, at) =>
      coveringOf(item, cuts.length(loom.code, `covering ${item.covering.id}`) ?? pieces[at]?.cut?.cutMm),
    ),
    fittings: loom.fittings.map(({ part, quantity, branch, atMm, threadedBefore, supply }): BenchFitting => ({
      part,
      quantity,
      ...(branch === undefined ? {} : { branch }),
      ...(atMm === undefined ? {} : { atMm }),
      ...(threadedBefore === undefined ? {} : { threadedBefore }),
      ...notBought(supply),
    })),
  };
}

function cablesOf(asked: AskedLoom, { parts }: CheckContext, cuts: Cuts): BenchCable[] {
  const { loom, ways } = asked;
  const cores = coresByCable(loom);
  const pieces = cablePieces(asked, parts);
  return loom.cables.map((cable, at): BenchCable => {
    const own = cores.get(cable.id) ?? [];
    const via = wayOfCable(cable, own, ways)?.branches.map(({ id }) => id);
    const cutMm = cuts.length(loom.code, `cable ${cable.id}`) ?? pieces[at]?.cut?.cutMm;
    return {
      cable: cable.id,
      ...(cable.part === undefined ? {} : { part: cable.part }),
      ...(cutMm === undefined ? {} : { cutMm }),
      ...(via ? { via } : {}),
      cores: own.map(({ id }) => id),
      ...notBought(cable.supply),
    };
  });
}

function coveringOf(laid: Laid, cutMm: number | undefined): BenchCovering {
  const { covering, part, way, under } = laid;
  const { id, kind, over, lengthMm, outer, overlapStartMm, overlapEndMm, supply } = covering;
  const isKnown = lengthMm !== undefined || way !== undefined;
  const widths = under.map(({ innerMm }) => innerMm);
  const known = widths.filter((mm) => mm !== undefined);
  const beneathMm = widths.length > 0 && known.length === widths.length ? Math.max(...known) : 0;
  return {
    covering: id,
    kind,
    ...(part ? { part: part.code } : {}),
    ...(over ? { branches: over } : {}),
    ...(isKnown ? { finishedMm: finishedOf(laid).mm } : {}),
    ...(cutMm === undefined ? {} : { cutMm }),
    ...(beneathMm > 0 ? { beneathMm: Math.round(beneathMm * 100) / 100 } : {}),
    ...(outer === undefined ? {} : { outer }),
    ...(overlapStartMm > 0 ? { overlapStartMm } : {}),
    ...(overlapEndMm > 0 ? { overlapEndMm } : {}),
    ...notBought(supply),
  };
}

function notBought(supply: Supply): { supply?: Exclude<Supply, 'buy'> } {
  return supply === 'buy' ? {} : { supply };
}
