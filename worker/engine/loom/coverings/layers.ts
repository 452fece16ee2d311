import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import type { BranchContent, Branches } from '../graph/branches.ts';
import type { Way } from '../graph/ways.ts';
import { beneathOf, type Under } from './beneath.ts';
import { isCandidate } from '../../job/candidates.ts';
import { choose, type Choice } from './choice.ts';
import { outsideMm } from './outside.ts';

export type Covering = JobLoom['coverings'][number];

/** A covering as it lies: its part, and what lies beneath it on each of its branches. */
export interface Laid {
  covering: Covering;
  /** Its place in the loom's list. */
  index: number;
  /** As stated, else chosen. */
  part: Part | undefined;
  /** Why that part was chosen, or none was; undefined where the part is stated. */
  chosen: string | undefined;
  /** Undefined where a length is stated, or its branches do not go on from each other. */
  way: Way | undefined;
  under: readonly Under[];
}

export interface Coverings {
  /** In the order of the loom's coverings. */
  of(loom: string): readonly Laid[];
}

/** How thick it is beneath or over a covering on a branch: as known, and for lengths. */
type Diameters = Pick<Under, 'innerMm' | 'steadyMm'>;

/** Lays the coverings of the looms over their branches, inner ones first, and chooses parts for those that name none. */
export function coveringsOf(
  looms: readonly AskedLoom[],
  branches: Branches,
  parts: ReadonlyMap<string, Part>,
  isOnSale: (part: string) => boolean,
): Coverings {
  const candidatesOf = candidateFinder([...parts.values()]);
  const laid = new Map(
    looms.map((asked) => [
      asked.loom.code,
      layLoom(asked, branches.of(asked.loom.code), parts, candidatesOf, isOnSale),
    ]),
  );
  return { of: (loom) => laid.get(loom) ?? [] };
}

function layLoom(
  { loom, ways, settings }: AskedLoom,
  contents: readonly BranchContent[],
  parts: ReadonlyMap<string, Part>,
  candidatesOf: (covering: Covering) => readonly Part[],
  isOnSale: (part: string) => boolean,
): Laid[] {
  const byBranch = new Map(contents.map((content) => [content.branch.id, content]));
  const inners = new Map<string, Covering[]>();
  for (const covering of loom.coverings)
    if (covering.outer !== undefined) addTo(inners, covering.outer, covering);
  const indexes = new Map(loom.coverings.map(({ id }, index) => [id, index]));
  const done = new Map<string, Laid>();
  const places = new Map<string, ReadonlyMap<string, Under>>();
  const under = new Set<string>();

  const lay = (covering: Covering): Laid => {
    const known = done.get(covering.id);
    if (known) return known;
    under.add(covering.id);
    // Coverings that lie over each other in a ring are told by the checks; here the ring is cut open.
    for (const inner of inners.get(covering.id) ?? []) if (!under.has(inner.id)) lay(inner);
    const way = covering.over && ways.along(covering.over);
    const list = (way?.branches ?? []).flatMap(({ id }): Under[] => {
      const content = byBranch.get(id);
      return content ? [{ content, ...beneathOn(covering, content) }] : [];
    });
    const stated = covering.part === undefined ? undefined : parts.get(covering.part);
    const choice: Choice = stated
      ? { part: stated, why: '' }
      : choose(covering, candidatesOf(covering), isOnSale, beneathOf(covering, way, list), settings);
    const laid = {
      covering,
      index: indexes.get(covering.id) ?? 0,
      part: choice.part,
      chosen: stated ? undefined : choice.why,
      way,
      under: list,
    };
    done.set(covering.id, laid);
    places.set(covering.id, new Map(list.map((place) => [place.content.branch.id, place])));
    under.delete(covering.id);
    return laid;
  };

  /** What lies beneath a covering on a branch: the bundle, and what it is stated to lie over, and what is beneath that. */
  const beneathOn = (covering: Covering, content: BranchContent): Diameters => {
    const { wires, cables, bundle, knownMm } = content;
    const bare: Diameters = {
      innerMm: wires.length + cables.length === 0 ? 0 : bundle?.diameterMm,
      steadyMm: knownMm,
    };
    return (inners.get(covering.id) ?? []).map((inner) => overOn(inner, content)).reduce(thickest, bare);
  };

  const overOn = (covering: Covering, content: BranchContent): Diameters => {
    const laid = done.get(covering.id);
    if (!laid) return { innerMm: 0, steadyMm: 0 };
    const own = places.get(covering.id)?.get(content.branch.id);
    if (!own) return beneathOn(covering, content);
    const { part } = laid;
    if (!part) return { innerMm: undefined, steadyMm: own.steadyMm };
    return {
      innerMm: own.innerMm === undefined ? undefined : outsideMm(part, own.innerMm, settings),
      steadyMm: outsideMm(part, own.steadyMm, settings),
    };
  };

  return loom.coverings.map(lay);
}

function thickest(a: Diameters, b: Diameters): Diameters {
  return {
    innerMm: a.innerMm === undefined || b.innerMm === undefined ? undefined : Math.max(a.innerMm, b.innerMm),
    steadyMm: Math.max(a.steadyMm, b.steadyMm),
  };
}

/** Finds the parts that may be chosen for a covering; alike for all of a kind and shade, so looked for once each. */
function candidateFinder(parts: readonly Part[]): (covering: Covering) => readonly Part[] {
  const found = new Map<string, Part[]>();
  return (covering) => {
    const key = `${covering.kind} ${covering.shade ?? ''}`;
    const known = found.get(key) ?? parts.filter((part) => isCandidate(part, covering));
    found.set(key, known);
    return known;
  };
}
