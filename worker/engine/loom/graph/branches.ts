import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import type { Part } from '../../model/part.ts';
import type { LoomBranch } from '../../model/quotedLoom.ts';
import { bundles, type Bundle } from '../../trade/bundle.ts';
import type { AskedLoom } from '../asked.ts';
import type { WireFigures } from '../wires/wireFigures.ts';
import type { Way, Ways } from './ways.ts';

type Branch = JobLoom['branches'][number];
type Wire = JobLoom['wires'][number];
type Cable = JobLoom['cables'][number];

/** A branch with what runs along it. */
export interface BranchContent {
  branch: Branch;
  /** Cores of a cable stand with their cable. */
  wires: readonly Wire[];
  cables: readonly Cable[];
  /** None where an outside diameter is not known, or nothing runs there. */
  bundle: Bundle | undefined;
  /** Of those whose outside diameter is known, never less for one more, mm; 0 of none. */
  knownMm: number;
  /** Over the bundle and its coverings, mm. */
  coveredMm: number | undefined;
}

export interface Branches {
  /** In the order of the loom's branches. */
  of(loom: string): readonly BranchContent[];
}

/**
 * What runs along each branch of the looms, and how thick that is, without coverings. A wire with a length and no way runs
 * along none.
 */
export function branchesOf(
  looms: readonly AskedLoom[],
  parts: ReadonlyMap<string, Part>,
  figures: WireFigures,
): Branches {
  const bundleOf = bundles();
  const contents = new Map(
    looms.map(({ loom, ways }) => {
      const cores = coresByCable(loom);
      const cableIds = new Set(loom.cables.map(({ id }) => id));
      const wires = new Map<string, Wire[]>();
      for (const wire of loom.wires)
        if (wire.inCable === undefined || !cableIds.has(wire.inCable))
          for (const { id } of ways.ofWire(wire).way?.branches ?? []) addTo(wires, id, wire);
      const cables = new Map<string, Cable[]>();
      for (const cable of loom.cables)
        for (const { id } of wayOfCable(cable, cores.get(cable.id) ?? [], ways)?.branches ?? [])
          addTo(cables, id, cable);
      return [
        loom.code,
        loom.branches.map((branch): BranchContent => {
          const along = { wires: wires.get(branch.id) ?? [], cables: cables.get(branch.id) ?? [] };
          const diameters = [
            ...along.wires.map((wire) => figures.of(wire).outsideDiameterMm?.value),
            ...along.cables.map((cable) => cableDiameterMm(cable, parts)),
          ];
          const known = diameters.filter((diameter) => diameter !== undefined);
          const bundle = bundleOf(known);
          return {
            branch,
            ...along,
            bundle: known.length === diameters.length ? bundle : undefined,
            knownMm: bundle?.steadyMm ?? 0,
            coveredMm: undefined,
          };
        }),
      ] as const;
    }),
  );
  return { of: (loom) => contents.get(loom) ?? [] };
}

function cableDiameterMm({ part: code }: Cable, parts: ReadonlyMap<string, Part>): number | undefined {
  const part = code === undefined ? undefined : parts.get(code);
  return part?.kind === 'cable' ? part.outsideDiameterMm : undefined;
}

/** The cores of each cable, by its id. */
export function coresByCable(loom: Pick<JobLoom, 'wires'>): Map<string, Wire[]> {
  const cores = new Map<string, Wire[]>();
  for (const wire of loom.wires) if (wire.inCable !== undefined) addTo(cores, wire.inCable, wire);
  return cores;
}

/** The way of a cable: as stated, else the shortest between the ends of its first core. */
export function wayOfCable({ via }: Cable, [core]: readonly Wire[], ways: Ways): Way | undefined {
  if (via) return ways.along(via);
  return core && ways.any ? ways.shortest(core.from.point, core.to.point) : undefined;
}

/** As a result tells it. */
export function branchLine({ branch, wires, cables, bundle, coveredMm }: BranchContent): LoomBranch {
  return {
    branch: branch.id,
    lengthMm: branch.lengthMm,
    wires: wires.map(({ id }) => id),
    cables: cables.map(({ id }) => id),
    ...(bundle ? { bundleMm: hundredths(bundle.diameterMm), how: bundle.how } : {}),
    ...(coveredMm === undefined ? {} : { coveredMm: hundredths(coveredMm) }),
  };
}

const hundredths = (mm: number) => Math.round(mm * 100) / 100;
